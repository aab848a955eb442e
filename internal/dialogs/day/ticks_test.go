package day_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/telling"
)

func TestTicks(t *testing.T) {
	f := onFloor(t, open)
	expect(t, f.Play("staff1: [All done]"),
		"how were the notes checked|[With a device]|[By a trained person]|[Fresh from the bank]", "")
	done := []string{"boxes", "clean", "typed", "total", "locked"}
	if r := last(f); r.Kind != books.Checks || !slices.Equal(r.Ticks, done) || !r.Has(books.AtOnce) {
		t.Errorf("%+v", r)
	}
	expect(t, f.Says("staff1", "with a device"), "Nothing is booked by typing|[With a device]", "done")
	expect(t, f.Play("staff1: [With a device]"), "Test payout of|1-1-1|Where are these notes|[Back in", "Still")
	if r := last(f); !slices.Equal(r.Ticks, []string{"checked", "checked.device"}) {
		t.Errorf("%+v", r)
	}
	expect(t, f.Play("staff1: [Back in]"), "put back in their note boxes|count them as paid out|[Yes]|[No]", "")
	expect(t, f.Play("staff1: [Yes]"), "Everything is done, 06:40. Thank you!", "Still")
	tests := f.Entries[len(f.Entries)-2]
	if tests.Kind != books.Test || tests.Where != books.Boxes || !tests.Has(books.Counted) ||
		len(tests.Figures) != 3 || tests.Figures[1].Notes != 1 {
		t.Errorf("the test payout is on record as %+v", tests.Record)
	}
	records := len(f.Entries)
	expect(t, f.Press("staff1", listed(f, "done")), "Everything is done", "")
	expect(t, f.Says("staff1", "with a device"), "Which of these", "done")
	if len(f.Entries) != records {
		t.Errorf("%d records, then %d", records, len(f.Entries))
	}
}

// A tap on a checklist that is not of this machine, or that is none, books nothing.
func TestTicksElsewhere(t *testing.T) {
	f := onFloor(t, open)
	for tap, want := range map[string]string{
		"o:ticks:1.done:2":       "another machine",
		"o:ticks:9.done":         "bot!>",
		"o:ticks:x.done":         "bot!>",
		"o:ticks:1.nothing":      "bot!>",
		"o:ticks:1.device":       "bot!>",
		"o:ticks:1.checked-none": "bot!>",
		"o:ticks:1.customers":    "lock",
		"o:ticks:1.show":         "Type the NUMBER|must say €7,000",
	} {
		expect(t, f.Press("staff1", chat.Button{Label: tap, Data: tap}), want, "")
	}
	if len(f.Entries) != 1 {
		t.Errorf("%d records", len(f.Entries))
	}
	expect(t, f.Press("staff1", listed(f, "done")), "how were the notes checked", "")
}

// Where notes need not be checked one tap is enough.
func TestTicksWithoutChecking(t *testing.T) {
	f := onFloor(t, "")
	f.Shop.Checked = false
	f.Play(open)
	expect(t, f.Play("staff1: [All done]"), "Where are these notes", "how were")
}

// A slip that differs waits for the right total, whoever ticks what.
func TestTicksAndTheSlip(t *testing.T) {
	f := onFloor(t, open+"staff1: printed 7200\nstaff1: [Confirm]")
	expect(t, f.Play("staff1: [All done]"), "bot!>|how were the notes checked", "")
	if r := last(f); slices.Contains(r.Ticks, "total") {
		t.Errorf("%v", r.Ticks)
	}
	expect(t, f.Play("staff1: [Fresh from"), "Where are these notes", "Everything")
	expect(t, f.Play("staff1: printed 7000\nstaff1: [Confirm]"), "agrees", "")
	expect(t, f.Press("staff1", chat.Button{Data: "o:ticks:1.show"}), "", "not €7,200")
}

// What is not as it should be is told what to do about, and stays open.
func TestDifferent(t *testing.T) {
	f := onFloor(t, open+"staff1: [Something is different]")
	expect(t, f.Play("staff1: [Test payout]"), "[Safe locked]|[The rest is done]", "[Test payout]")
	expect(t, f.Play("staff1: [Notes checked]"), "[Safe locked]|[The rest is done]",
		"[Test payout]|[Notes checked]")
	expect(t, f.Play("staff1: [The rest]"), "Still open|Test payout 1-1-1|Notes checked",
		"safe locked|how were")
	want := []string{"boxes", "clean", "typed", "total", "locked"}
	if r := last(f); !slices.Equal(r.Ticks, want) || !slices.Equal(r.Marks, []books.Mark{books.Different}) {
		t.Errorf("%+v", r)
	}
	if !slices.Equal(f.Machine.Current().Ticks, []string{"checked", "test"}) {
		t.Errorf("%v are open", f.Machine.Current().Ticks)
	}
	// nothing is different after all: how the notes were checked is still asked
	f = onFloor(t, open+"staff1: [Something is different]")
	expect(t, f.Play("staff1: [The rest]"), "Noted.|how were the notes checked", "Still open")
	if r := last(f); len(r.Marks) > 0 || len(r.Ticks) != 5 {
		t.Errorf("%+v", r)
	}
	// all was found wrong: nothing is recorded
	f = onFloor(t, open+"staff1: [Something is different]")
	for _, label := range []string{"Right", "Notes clean", "Notes checked", "Number", "Printed", "Test",
		"Safe locked"} {
		f.Taps("staff1", label)
	}
	f.Taps("staff1", "The rest")
	if len(f.Entries) != 1 {
		t.Errorf("%+v", last(f))
	}
	// a slip that differs is not done by saying that nothing else is different
	f = onFloor(t, open+"staff1: printed 7200\nstaff1: [Confirm]\nstaff1: [Something is different]")
	expect(t, f.Play("staff1: [The rest]"), "not €7,200", "")
}

// Another dialog is finished first; a list that is done meanwhile is not asked about.
func TestDifferentBeside(t *testing.T) {
	f := onFloor(t, open+"staff1: top up 20x50")
	expect(t, f.Press("staff1", listed(f, "different")), "top-up|[Confirm]", "[Safe locked]")
	f = onFloor(t, open+"staff1: [Something is different]\nstaff2: status")
	f.Press("staff2", listed(f, "done"))
	f.Press("staff2", listed(f, "checked-person"))
	f.Press("staff2", listed(f, "test-boxes-no"))
	said := f.Says("staff1", "hm")
	if !strings.Contains(said, "Everything is done") {
		t.Error(said)
	}
}

// listed is a button of the checklist as it would be printed now.
func listed(f *floor.Floor, action string) chat.Button {
	c := f.Engine.Talk(f.State("staff1"), chat.Input{At: f.Now, Chat: floor.ChatOf("staff1")}, f.Facts("staff1"))
	return chat.Button{Data: telling.TicksTap(c.Teller, f.Machine.Periods[0], action)}
}

// wakes delivers the deadline of a checklist when it is due, and gives what is said.
func wakes(f *floor.Floor, name string) []chat.Reply {
	f.T.Helper()
	i := slices.IndexFunc(f.Due, func(d chat.Deadline) bool { return d.Name == name })
	if i < 0 {
		f.T.Fatalf("%s has no deadline: %v", name, f.Due)
	}
	f.Now = f.Due[i].At
	facts := f.Facts("staff1")
	facts.Person.ID = 0
	in := chat.Input{Kind: chat.Remind, Text: name, At: f.Now, Due: f.Now, Chat: chat.MachineChat(1)}
	return f.Engine.Step(chat.State{}, in, facts).Replies
}

// A checklist that is left open is shown again to whoever opened, and not once it is done.
func TestTicksAgain(t *testing.T) {
	said := wakes(onFloor(t, open), "ticks-1")
	if len(said) != 1 || said[0].To.Person != 2 || said[0].Retire != "ticks-1-1" ||
		!strings.Contains(said[0].Body[0].Text, "from the opening at 06:40 are not ticked yet.\nType the NUMBER") {
		t.Errorf("%+v", said)
	}
	f := onFloor(t, open+"staff1: [All done]\nstaff1: [With a device]\nstaff1: [Back in]\nstaff1: [No]")
	if said := wakes(f, "ticks-1"); len(said) > 0 {
		t.Errorf("%+v", said)
	}
}

// Midnight between the card and the tap changes nothing: it is still the list of that card. Hours
// later, on another day, or with a clock that was set back, it is shown anew and ticks nothing.
func TestTicksOverMidnight(t *testing.T) {
	const late = "@2026-11-24 23:58\nowner: open 40 150 200\nowner: [Confirm]\n"
	for at, want := range map[string]string{
		"2026-11-25 00:01": "how were the notes checked", "2026-11-25 02:57": "how were the notes checked",
		"2026-11-25 03:30": "not the one to be done now", "2026-11-24 23:50": "not the one to be done now",
	} {
		f := onFloor(t, late)
		tap := listed(f, "done")
		f.Play("@" + at)
		expect(t, f.Press("owner", tap), want, "")
	}
}

// The list of the evening belongs to the closing.
func TestTicksInTheEvening(t *testing.T) {
	f := onFloor(t, closedDay)
	expect(t, f.Press("staff1", chat.Button{Data: "o:ticks:1.show"}),
		"Nov recorded|Before you go:|machine on", "")
	expect(t, f.Press("staff1", listed(f, "done")), "Everything is done", "")
	f = onFloor(t, countedDay+"staff1: [I must go]")
	expect(t, f.Press("staff1", chat.Button{Data: "o:ticks:1.show"}), "Count in, 21:05|Before you go:",
		"Opening")
}
