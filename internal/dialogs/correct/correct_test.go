package correct_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

var expect = floor.Expect

// wrong is a shop of which Monday 23 November 2026 is closed with a mistake: nine
// twenties more on the slip than were paid out. 150 - 98 = 52 twenties should be
// inside, 61 are: 180 too much. On Tuesday it is open, and ten twenties were added.
// The records: 1 opening, 2 count, 3 settlement, 4 close, 5 opening, 6 top-up.
func wrong(t *testing.T) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play(`
		@2026-11-23 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-23 21:05
		staff1: close 12 61 80
		staff1: none
		staff1: none
		staff1: [Confirm]
		staff1: 28 98 120
		staff1: none
		staff1: [Confirm]
		staff1: [Skip]
		@2026-11-24 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-24 10:00
		staff1: top up 20x10
		staff1: [Confirm]
	`)
	f.Out.Reset()
	return f
}

// What is asked and read back before a correction is booked.
func TestAsked(t *testing.T) {
	for name, s := range map[string]struct{ script, want, not string }{
		"the last records": {"correct",
			"[1. opening|[3. printed figures|[6. top-up", "[4."},
		"those of a day": {"correct; tuesday", "[5. opening|[6. top-up", "[1.|[3."},
		"a day without any": {"correct; 3 november",
			"Nothing is recorded for Tue 3 Nov|[1. opening", ""},
		"by number": {"correct #6",
			"6. 10:00 top-up, Ben: 10 x 20s = €200", ""},
		"no such record":      {"correct 99", "no record 99", "What is wrong"},
		"a close is none":     {"correct 4", "no record 4", "What is wrong"},
		"less than none":      {"correct -1", "Which record", "What is wrong"},
		"a count has its day": {"correct 2", "[The figures]", "[The day]|[It never"},
		"an opening was":      {"correct 1", "[The figures]|[The day]", "[It never"},
		"a number at once is of no figure": {"correct 3; [The figures]; 89",
			`could not take in "89"|98`, "paid out: 89"},
		"notes left out are none": {"correct 2; [The figures]",
			"[20s, refused notes: 0]", ""},
		"added to any box": {"correct 6; [The figures]",
			"[50s, topped up: 0]|[20s, topped up: 10]", ""},
		"more than the box holds": {"correct 2; [The figures]; [20s, left]; 2001",
			"from 0 to 2,000", "[That is all]"},
		"just what the box holds": {"correct 2; [The figures]; [20s, left]; 2000",
			"left in the box: 2,000]|[That is all]", ""},
		"half a note": {"correct 2; [The figures]; [20s, left]; 60.5",
			"from 0 to 2,000", "[That is all]"},
		"less than no note": {"correct 2; [The figures]; [20s, left]; -3",
			"61 now", "[That is all]"},
		"typed again": {"correct 3; [The figures]; [20s, paid]; 90; 89",
			"[20s, paid out: 89]", "90"},
		"the same as before": {"correct 3; [The figures]; [20s, paid]; 98",
			"[20s, paid out: 98]", "[That is all]"},
		"several at once": {"correct 3; [The figures]; [20s, paid]; 89; [10s, paid]; 119; [That is all]; [Typed]",
			"89 x 20s, 119 x 10s = €4,370|The bank owes: €4,560, then €4,370", ""},
		"a difference goes": {"correct 3; [The figures]; [20s, paid]; 89; [That is all]; [Typed]",
			"Difference of Mon 23 Nov: €180, then €0.|€4,560, then €4,380|Reason: typed wrongly", ""},
		"an empty box is told": {"correct 2; [The figures]; [50s, left]; 0; [That is all]; [Counted]",
			"61 x 20s, 80 x 10s = €2,020|€180, then -€420|counted wrongly", "x 50s, 61 x 20s, 80 x 10s = €2,020"},
		"own words": {"correct 6; [It never]; it was only planned",
			"it never happened|it was only planned", "Difference"},
		"change": {"correct 6; [It never]; [Typed]; [Change]",
			"What is wrong with it", "[Confirm]"},
		"a day it was shut": {"correct 6; [The day]; 3 november",
			"Nothing is recorded for Tue 3 Nov", "Why?"},
		"no day": {"correct 6; [The day]; blue moon", "did not understand", "Why?"},
		"several days": {"correct 6; [The day]; monday to tuesday",
			"Mon 23 Nov to Tue 24 Nov|Back to correction", "Why?"},
		"an opening anywhere": {"correct 1; [The day]; 3 november; [Belongs]",
			"Now: 1. Tue 3 Nov, 06:40 opening|another day", ""},
		"to another day": {"correct 6; [The day]; monday; [Belongs]",
			"Now: 6. Mon 23 Nov, 10:00 top-up|It goes to Mon 23 Nov|€180, then -€20", ""},
		"a long reason is cut": {"correct 6; [It never]; " + strings.Repeat("no ", 100),
			"Reason: “no no", strings.Repeat("no ", 80)},
	} {
		t.Run(name, func(t *testing.T) {
			f := wrong(t)
			n := len(f.Entries)
			expect(t, f.Play("owner: "+s.script), s.want, s.not)
			if len(f.Entries) != n {
				t.Error("something was booked")
			}
		})
	}
}

// What a correction changes is worked out anew, and stays so for one on top of it.
func TestCorrected(t *testing.T) {
	f := wrong(t)
	f.Play("owner: correct 3; [The figures]; [20s, paid]; 89; [That is all]; [Typed]; [Confirm]")
	r := f.Entries[6].Record
	if r.Kind != books.Correction || r.Target != 3 || r.Reason != books.Mistyped ||
		r.Instead.Figures[1].Notes != 89 {
		t.Fatalf("booked %+v", r)
	}
	if owed, p := f.Machine.ByBank().String(), f.Machine.Period(1); owed != "4380" || !p.Variance.IsZero() {
		t.Errorf("the bank owes %s, want 4380; the day differs by %s, want 0", owed, p.Variance)
	}
	// the number of the correction stands for the record; 1 of 28 fifties was not paid
	expect(t, f.Play("owner: correct 7; [The figures]"), "[20s, paid out: 89]", "98")
	f.Play("owner: [50s, paid]; 27; [That is all]; [Typed]; [Confirm]")
	owed, p := f.Machine.ByBank().String(), f.Machine.Period(1)
	if owed != "4330" || p.Variance.String() != "-50" {
		t.Errorf("the bank owes %s, want 4330; the day differs by %s, want -50", owed, p.Variance)
	}
}

// A count that is corrected was not blind; what never happened is gone; what is
// moved belongs to the other day, and a slip is due anew.
func TestWhatHolds(t *testing.T) {
	f := wrong(t)
	f.Play("owner: correct 2; [The figures]; [20s, left]; 52; [That is all]; [Counted]; [Confirm]")
	if in := f.Entries[6].Instead; len(in.Marks) != 1 || in.Marks[0] != books.NotBlind {
		t.Errorf("the count holds as %+v", in)
	}
	if p := f.Machine.Period(1); !p.Variance.IsZero() {
		t.Errorf("the day differs by %s, want 0", p.Variance)
	}
	f.Play("owner: correct 6; [It never]; [Typed]; [Confirm]")
	if n := f.Machine.Current().Added["20"]; n != 0 || f.Entries[7].Instead != nil {
		t.Errorf("%d twenties are still added", n)
	}
	expect(t, f.Play("owner: correct 6"), "no record 6", "What is wrong")
	f.Play("owner: cancel; correct 3; [The day]; tuesday; [Belongs]; [Confirm]")
	in := f.Entries[8].Instead
	if at := in.Happened.Format("2006-01-02 15:04"); in.Period != 5 || in.DueOn != "2026-11-25" ||
		at != "2026-11-24 21:05" {
		t.Errorf("the slip holds as %+v", in)
	}
}

// Notes that were moved are corrected move by move; none left is no move at all.
func TestMoved(t *testing.T) {
	f := wrong(t)
	f.Play("staff1: borrow 5x20\nstaff1: [Confirm]")
	expect(t, f.Play("owner: correct 7; [The figures]; [20s]; 4; [That is all]; [Typed]"), "4 x 20s = €80", "")
	f.Play("owner: [Confirm]")
	if owed := f.Machine.Owed().String(); owed != "80" {
		t.Errorf("the till owes %s, want 80", owed)
	}
	f.Play("owner: correct 7; [The figures]; [20s]; 0; [That is all]; [Typed]; [Confirm]")
	if last := f.Entries[len(f.Entries)-1]; last.Kind != books.Correction || last.Instead != nil {
		t.Errorf("booked %+v", last.Record)
	}
	if owed := f.Machine.Owed().String(); owed != "0" {
		t.Errorf("the till owes %s, want 0", owed)
	}
}

// Slips of which only the total is known have amounts; payments have nothing to
// correct but their day.
func TestAmounts(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(`
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-25 21:05
		staff1: close 12 61 80
		staff1: none
		staff1: none
		staff1: [Confirm]
		staff1: total 4390
		staff1: 0
		staff1: [Confirm]
		owner: credit 77
		owner: [I don't know]
		owner: [Confirm]
	`)
	expect(t, f.Play("owner: correct 3; [The figures]; [paid out]; 4380.00; [That is all]; [Typed]"),
		"€4,380|The bank owes: €4,390, then €4,380", "")
	f.Play("owner: [Confirm]")
	expect(t, f.Play("owner: correct 5; [The figures]; [paid]; 70; [That is all]; [Typed]"),
		"Was: 5. 21:05 bank paid, Ada: paid €77|Now: 5. 21:05 bank paid, Ada: paid €70", "The bank owes")
	f.Play("owner: [Confirm]")
	if loose := f.Machine.Loose; len(loose) != 1 || loose[0].Value.String() != "70" {
		t.Errorf("loose %v, want 70", loose)
	}
	expect(t, f.Play("owner: correct 5"), "[The day]|[It never", "")
	f.Play("owner: [It never]; [Typed]; [Confirm]")
	if len(f.Machine.Loose) != 0 || f.Machine.ByBank().String() != "4380" {
		t.Errorf("the bank owes %s, want 4380; loose %v", f.Machine.ByBank(), f.Machine.Loose)
	}
}

// The sum of a payment is corrected: what it paid for each day is worked out anew, and what
// was given up of a day is so only as far as nothing came for it. The days are worth 4,560 and
// 4,400; of the first are 160 given up.
func TestSumOfAPayment(t *testing.T) {
	f := wrong(t)
	f.Play("@2026-11-24 21:05\nstaff1: close 12 70 80; none; none; [Confirm]; 28 90 120; none; [Confirm]\n" +
		"staff1: [Skip]")
	f.Play("@2026-11-25 09:00\nowner: credit 4400 for monday; [Mon 23 Nov, €160 still]\n" +
		"owner: write off monday; [Too little]; [Confirm]")
	paid := f.Machine.Payments[0].Seq
	for _, x := range []struct {
		sum, says, owed string
	}{
		{"4300", "The bank owes: €4,400, then €4,500.", "4500"}, // 100 of Monday again, 160 stay given up
		{"4500", "Of what was given up, €100 is taken back.|€4,500, then €4,400.", "4400"},
		{"4600", "Of what was given up, €60 is taken back.|€40 that the bank paid is for", "4400"},
	} {
		script := fmt.Sprintf("owner: correct %d; [The figures]; [paid]; %s; [That is all]; [Typed]", paid, x.sum)
		expect(t, f.Play(script), x.says, "")
		f.Play("owner: [Confirm]")
		if owed := f.Machine.ByBank().String(); owed != x.owed {
			t.Errorf("by a payment of %s the bank owes %s, want %s", x.sum, owed, x.owed)
		}
		for _, c := range f.Machine.Claims {
			if c.Left().IsNegative() {
				t.Errorf("by a payment of %s %s are left of a day", x.sum, c.Left())
			}
		}
	}
}

// Two managers correct the same record: what the second one typed stays with the
// figure it was typed for, although the first one's figures come before it now.
func TestCorrectedMeanwhile(t *testing.T) {
	f := wrong(t)
	f.Shop.People[2].Role = shop.Manager
	f.Play("owner: correct 3; [The figures]; [50s, cancelled]; 1; [That is all]; [Typed]")
	f.Play("staff2: correct 3\nstaff2: [The figures]\nstaff2: [20s, cancelled]\nstaff2: 9\n" +
		"staff2: [That is all]\nstaff2: [Typed]\nstaff2: [Confirm]")
	n := len(f.Entries)
	expect(t, f.Play("owner: [Confirm]"), "Something changed meanwhile", "Corrected,")
	if len(f.Entries) != n {
		t.Fatal("booked over what the other one corrected")
	}
	f.Play("owner: [Confirm]")
	got := map[string]int64{}
	for _, x := range f.Entries[n].Instead.Figures {
		if x.Field == books.Cancelled {
			got[string(x.Face)] = x.Notes
		}
	}
	if len(got) != 2 || got["50"] != 1 || got["20"] != 9 {
		t.Errorf("cancelled %v, want 1 x 50 and 9 x 20", got)
	}
}

// Another manager took the record back meanwhile: there is nothing to correct.
func TestTakenBackMeanwhile(t *testing.T) {
	f := wrong(t)
	f.Shop.People[2].Role = shop.Manager
	f.Play("owner: correct 6; [The figures]; [20s, topped]; 8; [That is all]; [Typed]")
	f.Play("staff2: correct 6\nstaff2: [It never]\nstaff2: [Typed]\nstaff2: [Confirm]")
	n := len(f.Entries)
	expect(t, f.Play("owner: [Confirm]"), "Something changed meanwhile|Which record?", "[6.")
	if f.Chooses("owner", "confirm"); len(f.Entries) != n {
		t.Error("booked all the same")
	}
}

// Corrections need the whole ledger.
func TestNoLedger(t *testing.T) {
	f := wrong(t)
	f.Knows = func(facts *chat.Facts) { facts.Ask.Entries = nil }
	expect(t, f.Play("owner: correct 3"), "Somebody is counting", "What is wrong")
}

// Whoever closed a day does not correct it where another manages: those are asked to.
// On the phone at the counter who it is, is asked last, and so is this.
func TestOwnClosing(t *testing.T) {
	f := wrong(t)
	f.Shop.People[1].Role = shop.Manager
	expect(t, f.Says("staff1", "correct 3"), "You closed that day yourself.|I have asked: Ada.", "What is wrong")
	told := 0
	for _, r := range f.Last.Replies {
		if r.To.Person == 1 && strings.Contains(r.Body[0].Text, "Write: correct 3") {
			told++
		}
	}
	if told != 1 || len(f.Last.Records) != 0 {
		t.Errorf("told %d, recorded %v", told, f.Last.Records)
	}
	expect(t, f.Says("staff1", "correct 6"), "What is wrong", "yourself") // of a day that is not closed
	f.Says("staff1", "cancel")
	expect(t, f.Says("owner", "correct 3"), "What is wrong", "yourself")
	f.Says("owner", "cancel")
	f.Shop.OwnCorrect = true
	expect(t, f.Says("staff1", "correct 3"), "What is wrong", "yourself")
	f.Says("staff1", "cancel")
	f.Shop.OwnCorrect = false
	f.Shop.People[0].Disputed = true // whose phone is open corrects nothing
	expect(t, f.Says("staff1", "correct 3"), "What is wrong", "yourself")
}
