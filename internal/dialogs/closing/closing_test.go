package closing_test

import (
	"maps"
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// counted is the count of a day on which 28 fifties, 90 twenties and 120 tens were
// paid out: €4,400.
const counted = "staff1: close 12 60 80; none; none; [Confirm]\n"

// What a closing says at its end, and on the way.
func TestClosing(t *testing.T) {
	tell(t, opened, []story{
		{"balanced", counted + "staff1: 28 90 120; none",
			"It balances, every kind.|should pay €4,400", "missing|[Count again]|should be"},
		{"as much as passes", "staff1: close 12 59 81; none; none; [Confirm]; 28 90 120; none; [Confirm]",
			"Nov recorded|Before you go", "25 Nov by Ben|Do you know why"},
		{"more than passes", "staff1: close 12 58 80; none; none; [Confirm]; 28 90 120; none; [Confirm]",
			"others> Closing of Wed 25 Nov by Ben|20s         60       58  2 missing|Do you know why",
			"Before you go"},
		{"the reason",
			"staff1: close 11 60 80; none; none; [Confirm]; 28 90 120; none; [Confirm]; a fifty was torn",
			"Kept with the closing.|Before you go", ""},
		{"no reason", "staff1: close 11 60 80; none; none; [Confirm]; 28 90 120; none; [Confirm]; [Skip]",
			"Before you go", "Kept"},
		{"a total that passes", counted + "staff1: total 4430; none; [Confirm]", "Before you go",
			"Do you know why"},
		{"a total that does not", counted + "staff1: total 4440; none; [Confirm]",
			"€40 too much|Do you know why", ""},
		{"refused notes passed over", "staff1: close 12 58 80; [Not looked]; 28 90 120; none; [Confirm]",
			"others> Closing|is not complete|Before you go", "Do you know why"},
		{"refused notes asked below the count", "staff1: close 12 58 80",
			"anything there?|[I looked: nothing there]|[Not looked]", "[Confirm]"},
		{"line changed", "staff1: close 12 60 80; none; none; [Change]; [20s (middle box): 60]; 61", "61 notes",
			"60 notes"},
		{"refused notes changed", "staff1: close 12 60 80; none; none; [Change]; [Box for refused]; 20x2",
			"Box for refused notes: 2 x 20s", ""},
		{"found notes changed, refused ones still passed over",
			"staff1: close 12 60 80; 20x1; [Change]; [Box for]; [Skip]; [Change]; [Found notes]; 10x1",
			"Box for refused notes: not counted|Found: 1 x 10s", ""},
		{"refused notes counted after all",
			"staff1: close 12 60 80; 20x1; [Change]; [Box for]; [Skip]; [Change]; [Box for refused]; none",
			"Box for refused notes: empty", ""},
		{"counts typed where they are read back", "staff1: close 12 60 80; none; 10x81; [Left in]",
			"81 notes|[Confirm]", ""},
		{"printed figure changed", counted + "staff1: 28 80 120; none; [Change]; [Paid out, 20s: 80]; 90",
			"It balances", ""},
		{"printed figures typed anew", counted + "staff1: 28 80 120; none; [Change]; 28 90 120", "It balances", ""},
		{"cancelled, all of it", counted + "staff1: 28 89 120; 20x89; [It really is 89]", "The result|90 missing",
			"more than was paid"},
		{"cancelled, more", counted + "staff1: 28 89 120; 20x91", "more|[It really is 91]", "The result"},
		{"cancelled, money", counted + "staff1: 28 89 120; 20x180", "[9 notes]", "The result"},
		{"cancelled in total, all of it", counted + "staff1: total 4420; 4420",
			"€4,400 is missing", "Please read"},
		{"cancelled in total, more", counted + "staff1: total 4420; 4430", "more than was paid out|[Change]",
			"result"},
		{"cancelled in total, changed", counted + "staff1: total 4420; 4430; [Change]; 20", "It balances", ""},
		{"cancelled, what no notes make", counted + "staff1: total 4420; 15", "cannot be made of 50s 20s 10s",
			"The result"},
		{"a total changed", counted +
			"staff1: total 4300; none; [Change]; [Paid out in total]; total 4400; [No, none]",
			"It balances", ""},
		{"a total typed anew", counted + "staff1: total 4300; none; [Change]; 4400", "It balances|total only", ""},
		{"a total typed anew, with its name", counted + "staff1: total 4300; none; [Change]; total 4400",
			"It balances", ""},
		{"a total that no notes make", counted + "staff1: total 4400; none; [Change]; 4405.50", "cannot be made",
			"result"},
		{"kinds in place of a total", counted + "staff1: total 4300; none; [Change]; 28 90 120; none",
			"It balances, every kind.", "total only"},
		{"no figures", counted + "staff1: total 4300; none; [Change]; 20x", "", "result"},
		{"cancelled in total, anew", counted + "staff1: total 4420; none; [Change]; [Cancelled in total]; total 20",
			"It balances", ""},
		{"cancelled in total, insisted on", counted + "staff1: total 4420; 4430; [It really is", "The result", ""},
		{"restart changed", counted +
			"staff1: [More]; [Counters]; 18 60 79; 10 30 40; none; [Change]; [Before the restart, 10s]; 80",
			"It balances", ""},
		{"counters restarted", counted + "staff1: [More]; [Counters]; 18 60 80; 10 30 40; none",
			"It balances|€4,400", ""},
		{"counters restarted, unknown", counted + "staff1: [More]; [Counters]; [Skip]; 10 30 40; none; [Confirm]",
			"is not complete|others> |at least €1,500", "Do you know why"},
		{"they did not", counted +
			"staff1: [More]; [Counters]; 1 1 1; 28 90 120; none; [Change]; [Counters did not]",
			"It balances", ""},
		{"they did after all", counted + "staff1: 10 30 40; none; [Change]; [Counters started]; 18 60 80",
			"It balances", ""},
		{"not printed", counted + "staff1: no slip", "others> Closing by Ben: printed figures", ""},
	})
}

// What a closing writes down.
func TestClosingRecords(t *testing.T) {
	f := opened(t)
	f.Play(counted + "staff1: 28 92 120; 20x2; [Confirm]")
	if c := last(f, books.Count); len(c.Marks) != 0 || !slices.Equal(c.Ticks, []string{"night-away", "night-on",
		"night-open"}) || !maps.Equal(notes(c, books.Remaining), books.Notes{"50": 12, "20": 60, "10": 80}) {
		t.Errorf("the count is %+v", c.Record)
	}
	if s := last(f, books.Settlement); s.Due.String() != "4400" || s.DueOn != shop.Date("2026-11-26") {
		t.Errorf("due %s on %s", s.Due, s.DueOn) // 4,440 less two twenties, the next banking day
	}
	if c := last(f, books.Close); c.Where != books.Cash || !slices.Equal(c.Ticks, []string{"night-slip"}) {
		t.Errorf("the close is %+v", c.Record)
	}
}

// Finished on the next day, a closing is of the day of its count: the bank's day
// is that one's, and nothing remains to be done for the night.
func TestFinishedNextDay(t *testing.T) {
	f := opened(t)
	f.Play(counted + "staff1: [I must go]\n@2026-11-26 16:10\nstaff2: finish; 28 90 120; none; [Confirm]")
	s, c := last(f, books.Settlement), last(f, books.Close)
	if s.DueOn != shop.Date("2026-11-26") || c.Ticks != nil {
		t.Errorf("due on %s, to do %v", s.DueOn, c.Ticks)
	}
}

// In a shop that leaves its notes in over night nothing is put away.
func TestNotesStayIn(t *testing.T) {
	f := opened(t)
	f.Shop.Nightly = false
	f.Play(counted + "staff1: 28 90 120; none; [Confirm]")
	if c, n := last(f, books.Close), last(f, books.Count); c.Where != "" ||
		!slices.Equal(n.Ticks, []string{"night-locked", "night-on"}) {
		t.Errorf("%+v after %+v", c.Record, n.Record)
	}
}

// A count made again is marked, and so is one of the box for refused notes alone.
func TestNotBlind(t *testing.T) {
	for script, want := range map[string]int64{
		"12 55 80; none; none; [Confirm]; 28 90 120; none; [Count again]; 12 60 80; none; none; [Confirm]": 0,
		"12 58 80; none; none; [Confirm]; 28 90 120; none; [Count again]; 12 58 80; 20x2; none; " +
			"[Confirm]": 2,
		"12 06 80; none; none; [Confirm]; 28 90 120; none; [Correct it, 20s: 60]; [Yes, correct it]": 0,
	} {
		f := opened(t)
		f.Expect(f.Play("staff1: close "+script), "It balances", "Paid out")
		c := last(f, books.Count)
		if !c.Has(books.NotBlind) || notes(c, books.Refused)["20"] != want {
			t.Errorf("after %q the count is %+v", script, c.Record)
		}
	}
}

// What is known of the result, from this chat or another, marks a later count.
func TestKnownResult(t *testing.T) {
	f := opened(t)
	f.Play(counted + "staff1: 28 91 120; none; cancel; undo; [Confirm]; close 12 60 80; none; none; [Confirm]")
	if c := last(f, books.Count); !c.Has(books.NotBlind) {
		t.Errorf("the count is %+v", c.Record)
	}
}

// The printed figures can wait: the count is kept, and whoever has them finishes.
func TestFinish(t *testing.T) {
	tell(t, opened, []story{
		{"nothing to finish", "staff1: finish", "No slip is missing. To count what is left", "Paid out"},
		{"no slip", counted + "staff1: [No slip]",
			"others> Closing by Ben: printed figures of Wed 25 Nov are missing|finish|Before you go", ""},
		{"with a slip before", "staff1: settle 28 90 120; none; [Confirm]\n" + counted + "staff1: [I must go]",
			"others> Closing by Ben: Wed 25 Nov is counted and not closed yet", ""},
		{"next day", counted + "staff1: [I must go]\n@2026-11-26 09:00\nowner: finish",
			"Only the machine's figures are missing|Wed 25 Nov", ""},
		{"next day, by closing", counted + "staff1: [I must go]\n@2026-11-26 09:00\nowner: close 28 90 120", "",
			"nothing"},
		{"on the slips before", "staff1: settle 28 90 120; none; [Confirm]\n" + counted +
			"staff1: [Use the slips]; [Change]",
			"Already typed in:|21:05, €4,400", "It balances"},
		{"stopped", counted + "staff1: cancel", "Your count stays on record|finish", ""},
		{"stopped before", "staff1: close 12; cancel", "Stopped", "stays"},
	})
}

// A closing that an older program had under way is told with what is in no
// record yet: the counts of the open count, then the printed figures.
func TestOlderClosing(t *testing.T) {
	f := opened(t)
	f.Play(counted)
	counts := map[string][]int64{"left": {12, 60, 80}, "tray": {0, 0, 0}, "found": {0, 0, 0}, "paid": {28, 90,
		120}}
	for _, x := range []struct {
		flow, step, choice, want, not string
	}{
		{"close", "back", "", "You had typed: 50s 28, 20s 90, 10s 120.", "Left"},
		{"close", "found", "", "Left in the boxes: 50s 12, 20s 60, 10s 80; Box for refused notes: none", ""},
		{"close", "found", "no-tray", "Left in the boxes: 50s 12, 20s 60, 10s 80", "refused"},
		{"close", "back", "paid-total", "You had typed: €4,400.", "50s"},
		{"close", "reason", "", "Begin again?", "You had typed"},
		{"second", "compare", "", "Left in the boxes: 50s 12, 20s 60, 10s 80; Box for refused notes: none", ""},
		{"settle", "back", "", "50s 28, 20s 90, 10s 120", "Left"},
	} {
		f.States[floor.ChatOf("staff2")] = chat.State{V: 1, Flow: x.flow, Step: x.step, Draft: chat.Draft{Period: 1,
			Counts: counts, Choices: map[string]string{x.choice: "4400"}}}
		f.Expect(f.Says("staff2", "help"), x.want, x.not)
	}
}

// Taken over, they are typed again in their order: a count made anew comes before
// the printed figures, and those of before a restart before the others.
func TestOlderClosingTakenOver(t *testing.T) {
	for step, counts := range map[string]map[string][]int64{
		"back":         {"last-seen": {18, 60, 80}, "paid": {10, 30, 40}},
		"count-review": {"left": {12, 60, 80}, "tray": {0, 0, 0}, "found": {0, 0, 0}, "paid": {28, 90, 120}},
	} {
		f := opened(t)
		f.Play("staff1: close 12 55 80; none; none; [Confirm]; [I must go]")
		if step == "back" {
			f.Play("staff1: undo; [Confirm]; " + counted[len("staff1: "):] + "staff1: [I must go]")
		}
		f.States[floor.ChatOf("staff2")] = chat.State{V: 1, Flow: "close", Step: step,
			Draft: chat.Draft{Period: 1, Counts: counts}}
		out := f.Play("staff2: help; [Take them over]")
		if step == "count-review" {
			f.Expect(out, "Your count. Please check", "cancelled")
			out = f.Play("staff2: [Confirm]")
		}
		f.Expect(out, "It balances, every kind.|should pay €4,400", "cancelled and not")
	}
}

// An account typed from paper has no checklist, and the next thing from paper follows.
func TestFromPaper(t *testing.T) {
	f := opened(t)
	f.Shop.Nightly = false
	out := f.Play(
		"owner: earlier 24.11. 06:40; [Opening]; 40 150 200; [Confirm]; earlier 24.11. 20:30; [Closing]; " +
			"12 60 80; none; none; [Confirm]; 28 90 120; none; [Confirm]")
	f.Expect(out, "Closing of Tue 24 Nov recorded, 20:30|Write earlier", "Before you go")
	if c := last(f, books.Count); len(c.Ticks) != 0 {
		t.Errorf("to do after a day from paper: %v", c.Ticks)
	}
	if last(f, books.Close).Where != books.Cash {
		t.Error("the notes of a day from paper stay in")
	}
}

// Notes found before the count lie in the box for refused notes or apart from it.
func TestFindings(t *testing.T) {
	const found = "staff1: found 2x20; [Put aside]; [Confirm]\n"
	for script, want := range map[string]int64{ // of twenties found apart
		"staff1: close 12 58 80; 20x2; [Yes]; none; [Confirm]": 0, // among those in the box
		"staff1: close 12 58 80; 20x2; [No]; none; [Confirm]":  2,
		// it holds fewer: not asked
		"staff1: close 12 58 80; 20x1; none; [Confirm]":                                2,
		"staff1: close 12 58 80; [Not looked]":                                         2, // nobody looked
		"staff1: close 12 58 80; 20x2; [No]; [Change]; [Found notes]; 20x1; [Confirm]": 3,
		"staff1: close 12 58 80; none; none; [Confirm]":                                2,
		"staff1: close 12 58 80; 20x2 10x1; no; [Confirm]":                             2,
		"staff1: close 12 58 80; 20x2 10x1; yes; [Confirm]":                            0,
	} {
		f := opened(t)
		f.Play(found + script)
		if c := last(f, books.Count); notes(c, books.FoundAt)["20"] != want {
			t.Errorf("after %q the count is %+v, want %d found", script, c.Record, want)
		}
	}
	f := opened(t)
	f.Expect(f.Play(found+"staff1: close 12 58 80; none"), "2 x 20s", "")
}

// Two boxes of one kind are counted box by box and come out as one kind.
func TestTwoBoxesOfOneKind(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Machines[0].Boxes[2].Face = "20"
	f.Play("staff1: open 40 150 200; [Confirm]\n@2026-11-25 21:05")
	out := f.Play("staff1: close 12 60 80; none; none; [Confirm]; 50x28 20x201; none")
	// 150 and 200 twenties less 201 are 149; 60 and 80 are 140: nine missing.
	f.Expect(out, "149      140  9 missing", "[Correct it, 20s: 90]|[Correct it, 20s: 06]")
}

// Pounds in London: nothing of the currency or the zone is taken for granted.
func TestPounds(t *testing.T) {
	f := floor.New(t, dialogs.New)
	s := &f.Shop.Settings
	s.Country, s.Zone, s.Currency = "GB", "Europe/London", "GBP"
	for i, face := range []string{"20", "10", "5"} {
		s.Machines[0].Boxes[i].Face = cashmath.Face(face)
	}
	s.Bundles, s.Tolerance = nil, nil
	loaded, err := shop.New(1, 1, *s)
	if err != nil {
		t.Fatal(err)
	}
	f.Shop = loaded
	f.Play("staff1: open 40 150 200; [Confirm]\n@2026-11-25 21:05")
	// 40 x 20, 150 x 10 and 200 x 5 are £3,300; 28, 90 and 120 of them £2,060.
	out := f.Play("staff1: close 12 60 79; none; none; [Confirm]; 28 90 120; none")
	f.Expect(out, "5s          80       79  1 missing|£5 is missing|should pay £2,060", "€")
	f.Expect(f.Taps("staff1", "Confirm"), "Do you know why", "") // without a tolerance nothing passes
}
