package closing_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// A figure that was probably typed wrongly is corrected where it stands, and
// only after a yes. The figures: 28, 90 and 120 notes were paid out.
func TestMend(t *testing.T) {
	const figures = "; none; none; [Confirm]; 28 90 120; none"
	for _, s := range []struct {
		name, script, button, review string
		kind                         books.Kind
		gone                         bool // nothing is left of the record
	}{
		{"the count, a digit lost", "staff1: close 12 6 80" + figures, "Correct it, 20s: 60", "6  →  60",
			books.Count, false},
		{"the count, digits turned", "staff1: close 21 60 80" + figures, "Correct it, 50s: 12", "21  →  12",
			books.Count, false},
		{"lines exchanged", "staff1: close 12 80 60" + figures, "Correct it, 20s: 60", "60  →  80", books.Count,
			false},
		{"the slip, digits turned", "staff1: close 12 60 80; none; none; [Confirm]; 28 90 102; none",
			"Correct it, 10s: 120", "102  →  120", "", false},
		{"a top-up twice", "staff1: top up 20x50; [Confirm]; top up 20x50; [Confirm]; close 12 110 80" + figures,
			"Correct it, 20s: 0", "50  →  0", books.Correction, true},
		{"a top-up, digits turned", "staff1: top up 20x51; [Confirm]; close 12 75 80" + figures,
			"Correct it, 20s: 15", "51  →  15", books.Correction, false},
		{"cancelled taken off already", "staff1: close 12 60 80; 20x2; none; [Confirm]; 28 90 120; 20x2",
			"", "", "", false},
	} {
		t.Run(s.name, func(t *testing.T) {
			f := opened(t)
			out := f.Play(s.script)
			if s.button == "" {
				f.Expect(out, "[Confirm]", "Correct it")
				return
			}
			n := len(f.Entries)
			f.Expect(f.Taps("staff1", s.button), s.review+"|Then it balances|[Back]", "")
			f.Expect(f.Taps("staff1", "Back"), "[Correct it", "balances")
			out = f.Play("staff1: [" + s.button + "]; [Yes, correct it]")
			f.Expect(out, "Corrected, 21:05|It balances", "Correct it")
			if s.kind == "" && len(f.Entries) != n || s.kind != "" && f.Entries[len(f.Entries)-1].Kind != s.kind {
				t.Errorf("on record: %+v", f.Entries[n:])
			}
			if e := f.Entries[len(f.Entries)-1]; s.gone != (e.Kind == books.Correction && e.Instead == nil) {
				t.Errorf("taken back %t: %+v", !s.gone, e)
			}
			f.Expect(f.Taps("staff1", "Confirm"), "Nov recorded", "")
			if p := f.Machine.Last(); p.Verdict != "balanced" {
				t.Errorf("closed as %s", p.Verdict)
			}
		})
	}
}

// An opening typed wrongly is corrected, not taken back.
func TestMendOpening(t *testing.T) {
	f := floor.New(t, dialogs.New)
	// 150 twenties went in and 105 were typed
	f.Play("staff1: open 40 105 200; [Confirm]\n@2026-11-25 21:05")
	out := f.Play("staff1: close 12 60 80; none; none; [Confirm]; 28 90 120; none; [Correct it, 20s: 150]; " +
		"[Yes, correct it]")
	f.Expect(out, "It balances|others> A record was corrected", "")
	r := last(f, books.Correction)
	if r.Target != 1 || r.Instead == nil || notes(books.Entry{Record: *r.Instead}, books.Loaded)["20"] != 150 {
		t.Errorf("on record as %+v", r.Record)
	}
}

// A count that the next opening rests on is corrected, not made again.
func TestMendTakenCount(t *testing.T) {
	f := opened(t)
	out := f.Play("staff1: close 12 6 80; none; none; [Confirm]; [I must go]\n@2026-11-26 06:40\n" +
		"staff1: open 40 150 200; [Confirm]\nstaff2: finish; 28 90 120; none; [Correct it, 20s: 60]; " +
		"[Yes, correct it]")
	f.Expect(out, "It balances", "[Count again]")
	if r := last(f, books.Correction); r.Reason != books.Miscounted || r.Target != last(f, books.Count).Seq {
		t.Errorf("on record as %+v", r.Record)
	}
	f.Expect(f.Play("staff2: [Confirm]"), "Nov recorded", "Before you go")
}

// Without the ledger at hand nothing on record can be corrected from the result.
func TestMendWithoutLedger(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 105 200; [Confirm]\n@2026-11-25 21:05\nstaff1: close 12 60 80; none; none; " +
		"[Confirm]; 28 90 120")
	f.Knows = func(facts *chat.Facts) { facts.Ask.Entries = nil }
	f.Expect(f.Play("staff1: none"), "105 was typed", "Correct it")
}

// Figures of the afternoon that the evening slip holds again are left out.
func TestSlipsTwice(t *testing.T) {
	const day = "staff1: settle 10 30 40; none; [Confirm]\n" + counted
	tell(t, opened, []story{
		{"named", day + "staff1: 28 90 120; none", "seem to be in twice|21:05, €1,500|[Leave out", "Correct it"},
		{"read back", day + "staff1: 28 90 120; none; [Leave out",
			"would be left out|21:05, €1,500|[Yes, leave it out]", ""},
		{"kept", day + "staff1: 28 90 120; none; [Leave out; [Back]", "The result|[Leave out", "balances"},
		{"left out", day + "staff1: 28 90 120; none; [Leave out; [Yes, leave",
			"Left out, 21:05|It balances|should pay €4,400 for",
			"[Leave out"},
		{"two of them", "staff1: settle 10 30 40; none; [Confirm]; settle 5 10 20; none; [Confirm]\n" + counted +
			"staff1: 28 90 120; none; [Leave the earlier slips out]; [Yes, leave",
			"It balances|should pay €4,400 for", "earlier slips"},
		{"all there is, and it goes", "staff1: settle 10 30 40; none; [Confirm]\n" + counted +
			"staff1: [Leave out; [Yes, leave",
			"Now the slip, paid out", "Already typed in"},
	})
}

// While somebody counts a second time no slip says what it says, nor can it be left out.
func TestSlipsHidden(t *testing.T) {
	f := opened(t)
	f.Play("staff1: settle 10 30 40; none; [Confirm]\n" + counted + "staff2: second count 12")
	f.Expect(f.Taps("staff1", "More"), "Already typed in:|21:05", "€1,500|Leave out")
}

// Nor is it left out by whoever was about to, once somebody counts.
func TestSlipsHiddenMeanwhile(t *testing.T) {
	f := opened(t)
	f.Play("staff1: settle 10 30 40; none; [Confirm]\n" + counted +
		"staff1: [Leave out]\nstaff2: second count 12")
	f.Expect(f.Taps("staff1", "More"), "Cleo is counting a second time just now|Now the slip, paid out",
		"€1,500")
}

// What was corrected meanwhile is not corrected once more.
func TestMendedMeanwhile(t *testing.T) {
	f := opened(t)
	f.Play("staff1: close 12 6 80; none; none; [Confirm]; 28 90 120; none; [Correct it, 20s: 60]")
	f.Record(3, books.Ruled(books.Record{Kind: books.Count, Period: 1, Happened: f.Now, Figures: []books.Figure{
		{Field: books.Remaining, Box: 1, Face: "50", Notes: 12}, {Field: books.Remaining, Box: 2, Face: "20",
			Notes: 60},
		{Field: books.Remaining, Box: 3, Face: "10", Notes: 80}}}))
	f.Expect(f.Taps("staff1", "Yes, correct"), "Something changed meanwhile|It balances", "Corrected")
}
