package mending_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
	"shopfloat/internal/mending"
)

var kinds = lines.Kinds([]cashmath.Face{"50", "20", "10"})

// The day of the example shop balances by hand: 40, 150 and 200 go in, 28, 90 and 120 are
// paid out, 12, 60 and 80 are left.
const (
	morning = "staff1: open 40 150 200; [Confirm]; [All done]; [With a device]\n"
	evening = "@2026-11-25 21:05\nstaff1: close 12 60 80; none; none; [Confirm]\n"
	printed = "staff1: 50x28 20x90 10x120; none; [Confirm]\n"
)

func play(t *testing.T, script string) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Shop.Machines[0].TestDispense = false
	f.Play(script)
	return f
}

func change(field diagnosis.Field, lot int, face cashmath.Face, from, to int64) diagnosis.Change {
	return diagnosis.Change{Field: field, Lot: lot, Face: face, From: from, To: to}
}

// mended books what the changes stand for.
func mended(t *testing.T, f *floor.Floor, topups []int64, list ...diagnosis.Change) {
	t.Helper()
	p := f.Machine.Last()
	ledger := func() []books.Entry { return f.Entries }
	for _, r := range mending.Records(p, list, topups, kinds, ledger) {
		r.Happened = f.Now
		if r.Kind != books.Correction && r.Kind != books.Count {
			t.Fatalf("a slip is mended by a record of kind %s", r.Kind)
		}
		if r.Instead != nil && r.Instead.Happened.IsZero() {
			r.Instead.Happened = f.Now
		}
		f.Record(2, books.Ruled(r))
	}
}

func verdict(t *testing.T, p *books.Period) cashmath.Verdict {
	t.Helper()
	verdict, _ := p.Balances()
	return verdict
}

// A day with one slip typed in is wrong; with the record that the slip stands for, before
// the printed figures are booked, it balances, and no other figure is
// touched. The figures are the day's above.
func TestMendedDayBalances(t *testing.T) {
	const topped = "@2026-11-25 12:00\nstaff1: top up 0 0 30; [Confirm]\n"
	for name, s := range map[string]struct {
		script  string
		changes []diagnosis.Change
		check   func(*books.Period) bool
	}{
		"the opening": {"staff1: open 46 150 200; [Confirm]; [All done]; [With a device]\n" + evening,
			[]diagnosis.Change{change(diagnosis.Loaded, 0, "50", 46, 40)},
			func(p *books.Period) bool {
				return p.Boxes[0].Loaded == 40 && p.Boxes[1].Loaded == 150 && p.Boxes[2].Loaded == 200
			}},
		"two lines of the opening": {"staff1: open 40 200 150; [Confirm]; [All done]; [With a device]\n" +
			evening, []diagnosis.Change{change(diagnosis.Loaded, 0, "20", 200, 150),
			change(diagnosis.Loaded, 0, "10", 150, 200)},
			func(p *books.Period) bool { return p.Boxes[1].Loaded == 150 && p.Boxes[2].Loaded == 200 }},
		"the count": {morning + "@2026-11-25 21:05\n" +
			"staff1: close 21 60 80; none; none; [Confirm]\n",
			[]diagnosis.Change{change(diagnosis.Remaining, 0, "50", 21, 12)},
			func(p *books.Period) bool {
				return p.Boxes[0].Remaining == 12 && p.Boxes[1].Remaining == 60 && p.Boxes[2].Remaining == 80
			}},
		"refused notes counted twice": {morning + "@2026-11-25 21:05\n" +
			"staff1: close 12 60 80; 20s 5; none; [Confirm]\n",
			[]diagnosis.Change{change(diagnosis.Rejects, 0, "20", 5, 0)},
			func(p *books.Period) bool { return p.Tray["20"] == 0 && p.Boxes[1].Remaining == 60 }},
		"a top-up that was none": {morning + topped + evening,
			[]diagnosis.Change{change(diagnosis.Topups, 0, "10", 30, 0)},
			func(p *books.Period) bool { return p.Boxes[2].Added == 0 && p.Boxes[2].Loaded == 200 }},
		"a top-up of more": {morning + topped + "@2026-11-25 21:05\n" +
			"staff1: close 12 60 118; none; none; [Confirm]\n",
			[]diagnosis.Change{change(diagnosis.Topups, 0, "10", 30, 38)},
			func(p *books.Period) bool { return p.Boxes[2].Added == 38 }},
		"opening and count together": {"staff1: open 46 150 200; [Confirm]; [All done]; [With a device]\n" +
			"@2026-11-25 21:05\nstaff1: close 12 66 80; none; none; [Confirm]\n",
			[]diagnosis.Change{change(diagnosis.Remaining, 0, "20", 66, 60),
				change(diagnosis.Loaded, 0, "50", 46, 40)},
			func(p *books.Period) bool { return p.Boxes[0].Loaded == 40 && p.Boxes[1].Remaining == 60 }},
	} {
		t.Run(name, func(t *testing.T) {
			wrong := play(t, s.script+printed)
			if got := verdict(t, wrong.Machine.Last()); got == cashmath.Balanced {
				t.Fatalf("the day with the slip balances:\n%s", wrong.Out.String())
			}
			f := play(t, s.script)
			var topups []int64
			for _, e := range f.Entries {
				if e.Kind == books.TopUp {
					topups = append(topups, e.Seq)
				}
			}
			mended(t, f, topups, s.changes...)
			f.Play(printed)
			p := f.Machine.Last()
			if got := verdict(t, p); got != cashmath.Balanced || !s.check(p) {
				t.Errorf("%s: %+v", got, p.Boxes)
			}
		})
	}
}

// Nothing is made of no change, and the ledger is read only where something is corrected.
func TestLedgerIsReadWhereItIsNeeded(t *testing.T) {
	f := play(t, morning+evening+printed)
	unread := func() []books.Entry { t.Error("the ledger was read"); return nil }
	p := f.Machine.Last()
	if got := mending.Records(p, nil, nil, kinds, unread); len(got) != 0 {
		t.Errorf("of nothing: %+v", got)
	}
	count := []diagnosis.Change{change(diagnosis.Remaining, 0, "50", 12, 11)}
	if got := mending.Records(p, count, nil, kinds, unread); len(got) != 1 || got[0].Kind != books.Count {
		t.Errorf("of a count: %+v", got)
	}
	paid := []diagnosis.Change{change(diagnosis.Dispensed, 0, "50", 28, 29)}
	if got := mending.Records(p, paid, nil, kinds, unread); len(got) != 0 {
		t.Errorf("what the slip shows is typed anew, not booked: %+v", got)
	}
}

// A count that is mended says that it was not blind, and keeps what was found on the way;
// where the next opening took its notes it is corrected with the time it was made at.
func TestRecount(t *testing.T) {
	script := morning + "@2026-11-25 21:05\nstaff1: close 21 60 80; 10s 2; none; [Confirm]\n" +
		"staff1: 50x28 20x90 10x118; none; [Confirm]\n"
	list := []diagnosis.Change{change(diagnosis.Remaining, 0, "50", 21, 12)}
	f := play(t, script)
	p := f.Machine.Last()
	r := mending.Records(p, list, nil, kinds, nil)[0]
	if !r.Has(books.NotBlind) || r.Period != p.No || r.Instead != nil {
		t.Errorf("%+v", r)
	}
	if n := books.NotesIn(r.Figures, books.Refused); n["10"] != 2 || len(n.Faces()) != 1 {
		t.Errorf("refused notes: %v", n)
	}
	p.Path.Plus("20", 1)
	p.Taken = true
	r = mending.Records(p, list, nil, kinds, nil)[0]
	if r.Kind != books.Correction || r.Target != p.CountSeq || r.Reason != books.Miscounted || r.Period != p.No {
		t.Fatalf("of a count whose notes were taken: %+v", r)
	}
	if in := r.Instead; in == nil || in.Kind != books.Count || !in.Happened.Equal(p.CountedAt) {
		t.Fatalf("in its place: %+v", r.Instead)
	}
	if n := books.NotesIn(r.Instead.Figures, books.FoundAt); n["20"] != 1 {
		t.Errorf("found on the way: %v", n)
	}
}

// A record that is not there any more, or was taken back, is told by nothing in its place.
func TestNothingInPlaceOfWhatIsGone(t *testing.T) {
	f := play(t, morning+"@2026-11-25 12:00\nstaff1: top up 0 0 30; [Confirm]\n"+evening+printed)
	ledger := func() []books.Entry { return f.Entries }
	p := f.Machine.Last()
	list := []diagnosis.Change{change(diagnosis.Topups, 1, "10", 30, 20)}
	r := mending.Records(p, list, []int64{0, 99}, kinds, ledger)[0]
	if r.Target != 99 || r.Reason != books.Mistyped || r.Instead != nil {
		t.Errorf("%+v", r)
	}
}
