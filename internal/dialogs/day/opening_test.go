package day_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/day"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// An opening keeps each box's notes, and what is still to be done before customers.
func TestOpening(t *testing.T) {
	f := onFloor(t, open)
	r := last(f)
	ticks := []string{"boxes", "clean", "checked", "typed", "total", "test", "locked"}
	if r.Kind != books.Opening || !slices.Equal(r.Ticks, ticks) || len(r.Marks) > 0 {
		t.Errorf("%+v", r)
	}
	holds(t, f, 40, 150, 200)
	if got := f.Machine.Current().Loaded().Value().String(); got != "7000" { // 40×50 + 150×20 + 200×10
		t.Errorf("worth %s", got)
	}
	// where nobody has to check notes and none are tried, less is to be done
	f = floorOf(t, func(f *floor.Floor) {
		f.Shop.Checked, f.Shop.Machines[0].TestDispense = false, false
	})
	f.Play(open)
	if r := last(f); !slices.Equal(r.Ticks, []string{"boxes", "clean", "typed", "total", "locked"}) {
		t.Errorf("%v", r.Ticks)
	}
}

// Slips at an opening are asked back before anything is booked.
func TestOpeningSlips(t *testing.T) {
	play(t, "", []story{
		{"one by one", "staff1: open\nstaff1: 40\nstaff1: 150\nstaff1: 200",
			"€7,000|[Confirm]|[Change]", ""},
		{"caution first", "staff1: open", "Before you open the safe", "[Why?]"},
		{"caution beside the counts", "staff1: open 40 150 200", "Door locked|Then: right?", ""},
		{"money for notes", "staff1: open 40 3000 200", "[150 notes]|€60,000", "[Confirm]|It really"},
		{"more than fits", "staff1: open 40 2001 200", "2,001 notes do not fit|holds 2,000", "[Confirm]|It really"},
		{"one nought too many", "staff1: open 40 20010 200", "do not fit|[200 notes]", "[Confirm]"},
		{"far from usual", "staff1: open 40 15 200", "usually load about 150|[150 notes]|[It really is 15]", ""},
		{"none", "staff1: open 40 0 200", "No notes in 20s (middle box)|[150 notes]", "[Confirm]"},
		{"likely one taken", "staff1: open 40 15 200\nstaff1: [150 notes]", "€7,000|[Confirm]", ""},
		{"changed", "staff1: open 40 150 200\nstaff1: [Change]\nstaff1: [20s (middle box)\nstaff1: 140", "€6,800",
			""},
		{"typed where it is read back", "staff1: open 40 150 200\nstaff1: 20x140", "€6,800|[Confirm]", ""},
		{"above the limit", "staff1: open 900 150 200\nstaff1: [It really]",
			"€10,000 above the most cash|[Confirm anyway]", ""},
	})
}

// floorOf is the example shop after its settings changed.
func floorOf(t *testing.T, change func(*floor.Floor)) *floor.Floor {
	t.Helper()
	f := onFloor(t, "")
	change(f)
	return f
}

// anyLoad makes no load of the example shop unusual.
func anyLoad(f *floor.Floor) {
	for i := range f.Shop.Machines[0].Boxes {
		f.Shop.Machines[0].Boxes[i].Usual = 0
	}
}

// A box that is exactly full is taken. From 90 in a hundred on the share of what
// fits, and of the most cash allowed inside, is mentioned: here €36,000 of €40,000.
func TestNearTheLimits(t *testing.T) {
	for _, c := range []struct{ counts, want, not string }{
		{"0 0 2000", "10s (bottom box) is 100 % full (2,000 fit).|€20,000|[Confirm]", "fit:|most cash"},
		{"0 0 1800", "90 % full", "most cash"},
		{"0 0 1799", "€17,990", "full|most cash"},
		{"450 500 350", "This is 90 % of the most cash allowed inside (€40,000).|€36,000|[Confirm]", "above|full"},
		{"450 500 349", "€35,990|[Confirm]", "most cash"},
		{"450 500 750", "This is 100 % of the most cash", "above"},
		{"450 500 751", "€10 above the most cash", "This is 100 %"},
	} {
		f := floorOf(t, anyLoad)
		expect(t, f.Says("staff1", "open "+c.counts), c.want, c.not)
	}
	f := floorOf(t, anyLoad)
	f.Play("staff1: open 0 0 2000\nstaff1: [Confirm]")
	holds(t, f, 0, 0, 2000)
}

// After three openings what was loaded then is usual, whatever the settings say.
func TestUsualLoad(t *testing.T) {
	f := floorOf(t, func(f *floor.Floor) { f.Shop.Machines[0].Boxes[1].Usual = 20 })
	expect(t, f.Says("staff1", "open 40 150 200"), "usually load about 20", "")
	f.Play("staff1: [It really]\nstaff1: [Confirm]")
	for _, day := range []string{"26", "27"} {
		f.At("2026-11-" + day + " 06:40")
		said := f.Play("staff1: open 40 150 200\nstaff1: 12 60 80\nstaff1: [Skip]\nstaff1: [It really]")
		expect(t, said, "[Confirm]", "")
		expect(t, f.Play("staff1: [Confirm]"), "Nov recorded", "")
	}
	f.At("2026-11-28 06:40")
	expect(t, f.Play("staff1: open 40 150 200\nstaff1: 12 60 80\nstaff1: [Skip]"), "[Confirm]", "usually")
}

// Whoever opens on a day that is opened already meant a top-up, or closes first.
// What was typed goes with the top-up, and with nothing else.
func TestOpenAlready(t *testing.T) {
	play(t, open, []story{
		{"said", "staff2: open 30 20 10", "open already, since 06:40 by Ben|[Top-up]|[Close first]", "[Confirm]"},
		{"counts go with a top-up", "staff2: open 30 20 10\nstaff2: [Top-up]",
			"Top-up|30 notes  €1,500|20 notes    €400|10 notes    €100|€2,000|[Confirm]", ""},
		{"nothing typed", "staff2: open\nstaff2: [Top-up]", "How many notes", "[Confirm]"},
		{"counts are none of a closing", "staff2: open 30 20 10\nstaff2: [Close first]", "Closing|50s", "30"},
		{"taken back meanwhile", "staff2: open\nstaff1: undo\nstaff1: [Confirm]\nstaff2: open 40 150 200",
			"50s (top box): how many notes are in it?", "already"},
	})
	f := onFloor(t, open+"staff2: open 30 20 10\nstaff2: [Top-up]\nstaff2: [Confirm]")
	holds(t, f, 70, 170, 210)
}

// Two people open at once: who is slower books nothing.
func TestTwoOpenings(t *testing.T) {
	f := onFloor(t, "staff1: open 40 150 200\nstaff2: open 40 150 200\nstaff2: [Take over]\nstaff2: [Confirm]")
	expect(t, f.Play("staff1: [Confirm]"), "Nothing was booked", "recorded")
	if len(f.Entries) != 1 {
		t.Errorf("%d records", len(f.Entries))
	}
	// one that somebody else recorded is read back before anything is booked
	f = onFloor(t, "staff1: open 40 150 200\n@2026-11-25 10:00\n"+"staff2: open 40 150 200\nstaff2: [Confirm]")
	expect(t, f.Play("staff1: [Confirm]"), "open already", "recorded")
	if len(f.Entries) != 1 {
		t.Errorf("%d records", len(f.Entries))
	}
}

// A day that was not closed is counted with the opening of the next: blind, and
// with the box for refused notes or without.
func TestDayBeforeNotClosed(t *testing.T) {
	const next = open + "@2026-11-26 06:35\nstaff2: open 40 150 200\n"
	play(t, next, []story{
		{"read back", "staff2: 12 60 80\nstaff2: 1x20",
			"Left inside from Wed 25 Nov|12 notes    €600|1 x 20s|40 notes  €2,000|[Confirm]", ""},
		{"empty box", "staff2: 12 60 80\nstaff2: [No, it is empty]", "empty|[Confirm]", ""},
		{"box passed over", "staff2: 12 60 80\nstaff2: [Skip]", "not counted|[Confirm]", ""},
		{"box after all",
			"staff2: 12 60 80\nstaff2: [Skip]\nstaff2: [Change]\nstaff2: [Box for refused]\nstaff2: 2x10",
			"2 x 10s|[Confirm]", "not counted"},
		{"a line of what was inside",
			"staff2: 12 60 80\nstaff2: [Skip]\nstaff2: [Change]\nstaff2: [Left inside, 20s]\nstaff2: 61",
			"61 notes  €1,220|150 notes  €3,000|[Confirm]", ""},
		{"a count of either", "staff2: 12 60 80\nstaff2: [Skip]\nstaff2: 20x61",
			"[What was left inside]|[What goes in now]", "[Confirm]"},
		{"it was inside", "staff2: 12 60 80\nstaff2: [Skip]\nstaff2: 20x61\nstaff2: [What was left]",
			"61 notes  €1,220|150 notes  €3,000|[Confirm]", ""},
		{"it goes in", "staff2: 12 60 80\nstaff2: [Skip]\nstaff2: 20x161\nstaff2: [What goes in]",
			"60 notes  €1,200|161 notes  €3,220|[Confirm]", ""},
		{"neither", "staff2: 12 60 80\nstaff2: [Skip]\nstaff2: 20x61\nstaff2: [Back]",
			"60 notes  €1,200|150 notes  €3,000|[Confirm]", ""},
	})
	f := onFloor(t, "")
	expect(t, f.Play(next), "Wed 25 Nov was not closed|Before you open the safe", "390|Loaded")
	f = onFloor(t, next+"staff2: 12 60 80\nstaff2: 1x20")
	expect(t, f.Play("staff2: [Confirm]"), "Nov recorded|bot@others|Wed 25 Nov was not closed|Cleo", "")
	if len(f.Entries) != 3 {
		t.Fatalf("%d records", len(f.Entries))
	}
	r := f.Entries[1].Record
	if r.Kind != books.Count || r.Period != 1 || !slices.Equal(r.Marks, []books.Mark{books.Early}) ||
		len(r.Figures) != 4 {
		t.Errorf("%+v", r)
	}
	holds(t, f, 40, 150, 200)
	f = onFloor(t, next+"staff2: 12 60 80\nstaff2: [Skip]\nstaff2: [Confirm]")
	if r := f.Entries[1].Record; !slices.Equal(r.Marks, []books.Mark{books.Early, books.NoTray}) ||
		len(r.Figures) != 3 {
		t.Errorf("%+v", r)
	}
}

// What was counted so far is told without the box that was passed over.
func TestPassedOverIsNoAnswer(t *testing.T) {
	f := onFloor(t,
		open+"@2026-11-26 06:35\nstaff2: open\nstaff2: 12 60 80\nstaff2: [Skip]\nstaff2: 40\n@2026-11-26 07:30")
	expect(t, f.Says("staff2", "150"), "Left inside: 50s 12, 20s 60, 10s 80|50s 40", "refused")
	f = onFloor(t,
		open+"@2026-11-26 06:35\nstaff2: open\nstaff2: 12 60 80\nstaff2: [No, it is]\nstaff2: 40\n"+
			"@2026-11-26 07:30")
	expect(t, f.Says("staff2", "150"), "refused", "")
}

// While a manager says not to load, nothing is opened.
func TestHeld(t *testing.T) {
	f := onFloor(t, "staff1: open 40 150 200")
	f.Shop.Plan.Hold = &shop.Hold{By: 1}
	expect(t, f.Play("staff1: [Confirm]"), "Do not load", "recorded")
	expect(t, f.Says("staff2", "open 40 150 200"), "Do not load", "[Confirm]")
	if len(f.Entries) > 0 {
		t.Errorf("%+v", last(f))
	}
}

// The advice stands above the first question, with its reasons at a tap, and not
// where the counts came with the command.
func TestAdviceBefore(t *testing.T) {
	known := true
	f := floor.New(t, func(catalogue *texts.Catalogue) *engine.Engine {
		advice := engine.Advising{Line: func(*engine.Talk) (string, bool) { return "Load 30.", known },
			Why: func(*engine.Talk) string { return "It is Wednesday." }}
		return floor.Of(day.OpeningFlow(), day.TopUpFlow(), engine.Moments{Advice: &advice})(catalogue)
	})
	expect(t, f.Says("staff1", "open"), "Load 30.|[Why?]", "Wednesday")
	expect(t, f.Play("staff1: [Why]"), "It is Wednesday.|[Why?]", "Load 30.")
	expect(t, f.Play("staff1: 40\nstaff1: 150\nstaff1: 200"), "[Confirm]", "[Why")
	f.Says("staff1", "cancel")
	known = false // nothing to tell behind it
	expect(t, f.Says("staff1", "open"), "Load 30.", "[Why?]")
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff1", "open 40 150 200"), "[Confirm]", "Load 30.")
	expect(t, f.Play("staff1: [Change]\nstaff1: [20s"), "20s (middle box)", "[Why")
}
