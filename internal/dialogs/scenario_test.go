package dialogs_test

import (
	"testing"

	"shopfloat/internal/books"
)

// Each story ends with a message in which every wanted piece stands and no
// unwanted one does.
func TestStories(t *testing.T) {
	const open = "staff1: open 40 150 200\nstaff1: [Confirm]\n"
	for _, s := range []struct{ name, script, want, not string }{
		{"one at a time", "staff1: open\nstaff1: 40\nstaff1: 150\nstaff1: 200", "€7,000|[Confirm]|[Change]", ""},
		{"value for a count", "staff1: open 40 3000 200", "[150 notes]|€60,000", "[Confirm]|It really"},
		{"value below capacity", "staff1: open 40 150 2000", "[200 notes]|[It really is 2,000]", "[Confirm]"},
		{"far from usual", "staff1: open 40 15 200", "usually load about 150|[150 notes]|[It really is 15]",
			"[Confirm]"},
		{"kept as typed", "staff1: open 40 15 200\nstaff1: [It really]", "15 notes|[Confirm]", ""},
		{"amount of money", "staff1: open €2000 in 50s, €3000 in 20s, 10s 200\nstaff1: [Yes]",
			"€7,000|[Confirm]", ""},
		{"not a whole number", "staff1: open\nstaff1: €3010 in 20s", "not a whole number of 20s|top box", ""},
		{"what was understood stays", "staff1: open\nstaff1: 50s 40, 20s -3\nstaff1: 20s 150\nstaff1: 10s 200",
			"40 notes|150 notes|[Confirm]", ""},
		{"above the limit", "staff1: open 900 150 200\nstaff1: [It really]", "above the most cash|[Confirm anyway]",
			""},
		{"second opening", open + "staff2: open 40 150 200", "open already|[Top-up]|[Close first]", "[Confirm]"},
		{"printed total agrees", open + "staff1: printed 7000\nstaff1: [Confirm]", "agrees", "different"},
		{"printed total: digits", open + "staff1: printed 7200\nstaff1: [Confirm]", "", "agrees"},
		{"printed total: transposed", open + "staff1: printed 14200\nstaff1: [Confirm]",
			"typed into the machine for 20s (middle box)|510", ""},
		{"bare printed total", open + "staff1: 7000\nstaff1: [Confirm]", "agrees", ""},
		{"ticks left", open + "staff1: [Something]\nstaff1: [Test payout]\nstaff1: [The rest]", "Test payout 1-1-1",
			"Safe locked"},
		{"too full", open + "staff1: top up 10x1855", "may not fit|[It really is 1,855]", "[Confirm]"},
		{"top-up counted from the shown level", open +
			"staff1: level 40 150 100\nstaff1: [Confirm]\nstaff1: top up 10x1855", "[Confirm]", "fit"},
		{"exchange refused", open + "staff1: move 5x20 exchange\nstaff1: 9x10", "differ by €10", "[Confirm]"},
		{"exchange", open + "staff1: move 5x20 exchange\nstaff1: 10x10\nstaff1: [Confirm]", "Same value", ""},
		{"change owed", open + "staff1: borrow 5x20\nstaff1: [Confirm]\nstaff1: status", "not back yet: €100", ""},
		{"change back", open + "staff1: borrow 5x20\nstaff1: [Confirm]\nstaff1: bring back 5x20\nstaff1: " +
			"[Confirm]\nstaff1: status",
			"", "not back yet"},
		{"not so many inside", open + "staff1: borrow 501x20",
			"So many are not inside|[It really is 501]|[Record a top-up first]", "[Confirm]"},
		{"one note", open + "staff1: close 0 0 0; [Empty]; [Empty]; [Empty]\nstaff1: [I looked]\nstaff1: 50 10 10",
			"€50 is 1 note.|[1 note]", "1 notes"},
		{"undo", open + "staff1: undo\nstaff1: [Confirm]\nstaff1: status", "not open", ""},
		{"undo in history", open + "staff1: undo\nstaff1: [Confirm]\nstaff1: history",
			"€7,000 (taken back)|2. 06:40 undone, Ben (number 1)", "undone, Ben (taken back)"},
		{"undo of a top-up and of its day in history",
			open + "staff1: top up 20x5\nstaff1: [Confirm]\nstaff1: undo\nstaff1: [Confirm]\n" +
				"staff1: undo\nstaff1: [Confirm]\nstaff1: history",
			"= €100 (taken back)|3. 06:40 undone, Ben (number 2)|4. 06:40 undone, Ben (number 1)",
			"undone, Ben (taken back)"},
		{"exchange of two kinds in history",
			open + "staff1: move 20x5 50x2 exchange\nstaff1: 10x20\nstaff1: [Confirm]\nstaff1: history",
			"swapped at equal value, 2 x 50s, 5 x 20s = €200", "20 x 10s"},
		{"undo by another", open + "staff2: undo", "last record is by Ben", "[Confirm]"},
		{"undo late", open + "@2026-11-25 07:40\nstaff1: undo", "too long ago", "[Confirm]"},
		{"level", open + "@2026-11-25 08:40\nstaff1: level 40 110 200\nstaff1: [Confirm]", "20/h|20s|about 14:10",
			""},
		{"level runs out", open + "@2026-11-25 08:40\nstaff1: level 40 50 200\nstaff1: [Confirm]",
			"20s|about 09:40|Top up before", ""},
	} {
		t.Run(s.name, func(t *testing.T) {
			f := newFloor(t)
			last := f.Play(s.script)
			f.Expect(last, s.want, s.not)
		})
	}
}

// A whole day's close, in its variants.
func TestClosings(t *testing.T) {
	const open = "staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 21:05\n"
	for _, s := range []struct{ name, script, want, not string }{
		{"balanced", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\nstaff2: 28 90 120\nstaff2: none",
			"It balances|€4,400|[Confirm]", "missing"},
		{"one missing, within what passes", "staff2: close 12 59 80\nstaff2: [I looked: nothing there]\n" +
			"staff2: 28 90 120\nstaff2: none\nstaff2: [Confirm]", "Before you go|[All done]", "Do you know why"},
		{"more missing", "staff2: close 12 55 80\nstaff2: [I looked: nothing there]\nstaff2: 28 90 120\n" +
			"staff2: none\nstaff2: [Confirm]", "Do you know why|bot@others|5 missing", ""},
		{"figures in money", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\n" +
			"staff2: €1400 €1800 €1200\nstaff2: none", "It balances", ""},
		{"only a total", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\nstaff2: total 4400\nstaff2: 0",
			"It balances|total only", ""},
		{"cancelled payouts lie in the box", "staff2: close 12 58 80\nstaff2: 2x20\nstaff2: [Confirm]\n" +
			"staff2: 28 92 120\nstaff2: 2x20", "It balances|€4,400", ""},
		{"money typed for notes", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\nstaff2: 28 1800 120",
			"[90 notes]", "missing"},
		{"box not counted", "staff2: close 12 55 80\nstaff2: [Not looked]\nstaff2: 28 90 120\n" +
			"staff2: none", "not complete", "€100 is missing"},
		{"counters restarted, figure unknown", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\n" +
			"staff2: [More]\nstaff2: [Counters]\nstaff2: [Skip]\nstaff2: 10 30 40\nstaff2: none", "not complete",
			"is missing."},
		{"counters restarted, figure known", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\n" +
			"staff2: [More]\nstaff2: [Counters]\nstaff2: 18 60 80\nstaff2: 10 30 40\nstaff2: none",
			"It balances|€4,400", ""},
		{"no slip", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\nstaff2: [No slip]", "kept|finish",
			""},
		{"finished next day", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\nstaff2: [I must go]\n" +
			"@2026-11-26 06:30\nowner: close\nowner: 28 90 120\nowner: none", "It balances", ""},
		{"counted again", "staff2: close 12 55 80\nstaff2: [I looked: nothing there]\nstaff2: 28 90 120\n" +
			"staff2: none\nstaff2: [Count again]\nstaff2: 12 60 80\nstaff2: [I looked: nothing there]",
			"It balances", ""},
		{"two settlements", "staff2: settle 10 30 40\nstaff2: none\nstaff2: [Confirm]\nstaff2: close 12 60 " +
			"80\nstaff2: none\n" +
			"staff2: [No]\nstaff2: [Confirm]\nstaff2: 18 60 80\nstaff2: none", "It balances|€1,500 + €2,900", ""},
		{"slips entered before", "staff2: settle 28 90 120\nstaff2: none\nstaff2: [Confirm]\nstaff2: close 12 " +
			"60 80\n" +
			"staff2: [I looked: nothing there]\nstaff2: [Use the slips]", "It balances", ""},
		{"second count agrees", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\n" +
			"staff1: second count 12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]", "agree|bot@others", "€"},
		{"second count differs", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\n" +
			"staff1: second count 12 61 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]", "differ|[Use my count]",
			"60"},
		{"second count by the same person", "staff2: close 12 60 80\nstaff2: [I looked: nothing there]\n" +
			"staff2: [I must go]\nstaff2: second count", "another person", ""},
		{"test notes in the box", "staff1: test\nstaff1: [1 of each]\nstaff1: [Yes]\nstaff1: [Box " +
			"for]\nstaff1: [Confirm]\n" +
			"staff2: close 11 59 79\nstaff2: 1x50 1x20 1x10\nstaff2: [Confirm]\nstaff2: 29 91 121\nstaff2: none",
			"It balances|€4,400", ""},
		{"test notes taken elsewhere", "staff1: test\nstaff1: [1 of each]\nstaff1: [Yes]\nstaff1: [Shop's safe]\n" +
			"staff1: [Confirm]\nstaff2: close 11 59 79\nstaff2: [I looked: nothing there]\nstaff2: 29 91 121\n" +
			"staff2: none", "It balances|€4,400", ""},
		{"found notes are in the box", "staff1: found 2x20\nstaff1: [Box for]\nstaff1: [Confirm]\nstaff2: " +
			"close 12 58 80\n" +
			"staff2: 2x20\nstaff2: [Yes]\nstaff2: [Confirm]\nstaff2: 28 90 120\nstaff2: none",
			"It balances", ""},
		{"found notes put aside", "staff1: found 2x20\nstaff1: [Put aside]\nstaff1: [Confirm]\nstaff2: close " +
			"12 58 80\n" +
			"staff2: [I looked: nothing there]\nstaff2: 28 90 120\nstaff2: none",
			"It balances", ""},
		{"count without closing", "staff2: count now 12 59 80\nstaff2: [I looked: nothing there]\n" +
			"staff2: 28 90 120\nstaff2: none\nstaff2: [Confirm]\nstaff2: status", "The machine is open", ""},
		{"swap", "staff1: swap\nstaff1: [20s]\nstaff1: 60\nstaff1: 150\nstaff1: [Confirm]\nstaff2: close 12 " +
			"140 80\n" +
			"staff2: [I looked: nothing there]\nstaff2: 28 100 120\nstaff2: none", "It balances|€4,600", ""},
	} {
		t.Run(s.name, func(t *testing.T) {
			f := newFloor(t)
			f.Expect(f.Play(open+s.script), s.want, s.not)
		})
	}
}

func TestEarlyShiftCanAlwaysOpen(t *testing.T) {
	f := newFloor(t)
	out := f.Play(`
	staff1: open 40 150 200
	staff1: [Confirm]
	@2026-11-26 06:35
	staff2: open 40 150 200
	staff2: 12 60 80
	staff2: [No, it is empty]
	staff2: [Confirm]`)
	f.Expect(out, "Nov recorded|bot@others|was not closed", "")
	f.Expect(f.Says("owner", "status"), "is open|figures of Wed 25 Nov", "")
	out = f.Play("owner: finish\nowner: 28 90 120\nowner: none")
	f.Expect(out, "It balances", "")
	f.Expect(f.Play("owner: [Confirm]"), "Nov recorded", "Before you go")
	if p := f.Machine.Current(); p == nil || p.Held()["20"] != 150 {
		t.Fatalf("today's opening: %+v", p)
	}
	if got := f.Machine.Balance.At(books.BoxPlace(2), "20"); got != 150 {
		t.Fatalf("the middle box holds %d by the ledger, want 150", got)
	}
}

func TestOvertaken(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: level 30 100 150\nstaff1: [Confirm]")
	f.Play("staff1: top up 20x50")
	f.Play("owner: printed 7000\nowner: [Confirm]")
	out := f.Play("staff1: [Confirm]")
	f.Expect(out, "Something changed meanwhile|by Ada|[Confirm]", "recorded,")
	f.Expect(f.Play("staff1: [Confirm]"), "Top-up recorded", "")
}

func TestTakeOver(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 21:00\nstaff1: close\nstaff1: 12")
	f.Expect(f.Says("staff2", "close"), "Ben is busy at this machine|[Take over]", "")
	f.Expect(f.Play("staff2: [Take over]"), "bot@others> Cleo took over|top box", "")
	f.Expect(f.Play("staff1: [More]"), "Nothing was booked", "Stopped")
}

func TestPaperDay(t *testing.T) {
	f := newFloor(t)
	out := f.Play(`
	staff1: open 40 150 200
	staff1: [Confirm]
	owner: earlier 24.11. 06:40
	owner: [Opening]
	owner: 50 100 150
	owner: [Confirm]
	owner: earlier 24.11. 20:30
	owner: [Closing]
	owner: 10 20 30
	owner: none
	owner: none
	owner: [Confirm]
	owner: 40 80 120
	owner: none`)
	f.Expect(out, "It balances", "")
	f.Expect(f.Play("owner: [Confirm]"), "Closing of Tue 24 Nov recorded, 20:30", "")
	if p := f.Machine.Current(); p == nil || p.Opened.In(f.Shop.Location).Day() != 25 || p.Held()["20"] != 150 {
		t.Fatalf("today's period: %+v", p)
	}
}
