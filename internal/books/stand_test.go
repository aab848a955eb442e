package books_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/stand"
)

// Two days by hand. Loaded 40 x 50 + 150 x 20 + 200 x 10 = 7,000 each morning.
// Day one paid out 1,200, so 5,800 came back and 1,200 more were taken for day
// two: 8,200 taken, of which the bank paid 1,195 after a charge of 5.
func TestStand(t *testing.T) {
	l := newLedger(t)
	a := l.sold(10, 20, 30)
	l.post(opening())
	l.post(books.Record{Kind: books.Moved, Period: l.m.Open, Reason: books.Change,
		Moves: []books.Move{books.NewMove(books.BoxPlace(2), books.Till, "20", 5)}})
	l.post(credit(1195, part(books.Pays, a, 1200), part(books.Charge, a, -5)))
	s, err := stand.At(1, l.entries, time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	if !s.Inside.Equal(money(6900)) || !s.Till.Equal(money(100)) || !s.Cash.IsZero() ||
		!s.ByBank.IsZero() || !s.Open {
		t.Errorf("there is %+v", s)
	}
	if !s.Taken.Equal(money(8200)) || !s.PutIn().Equal(money(8200-1195)) {
		t.Errorf("put in %s", s.PutIn())
	}
	if len(s.Gaps) != 1 || s.Gaps[0].Why != stand.ByCharge || !s.Gaps[0].Value.Equal(money(-5)) ||
		!s.Missing().IsZero() {
		t.Errorf("gaps %+v, missing %s", s.Gaps, s.Missing())
	}
	before, err := stand.At(1, l.entries, l.entries[4].Happened)
	if err != nil {
		t.Fatal(err)
	}
	if !before.Inside.IsZero() || !before.Cash.Equal(money(5800)) || !before.ByBank.Equal(money(1200)) {
		t.Errorf("after day one %+v", before)
	}
}

// While a period is open, each note is told in one place: what a slip says was
// paid out is owed by the bank and inside no longer, and what was found in the
// box for refused notes is no second time in the boxes. By hand: 7,000 put in;
// 10 x 50 + 5 x 20 = 600 paid out, 1 x 20 of it cancelled; 2 x 10 found; 1 x 50
// of a test lies in the till.
func TestStandOfAnOpenDay(t *testing.T) {
	for name, slip := range map[string]books.Record{
		"notes": {Figures: []books.Figure{kind(books.PaidOut, 1, 10), kind(books.PaidOut, 2, 5),
			kind(books.Cancelled, 2, 1)}},
		"amounts": {Amounts: []books.Amount{{Field: books.PaidOut, Value: money(600)},
			{Field: books.Cancelled, Value: money(20)}}},
	} {
		t.Run(name, func(t *testing.T) {
			l := newLedger(t)
			l.post(opening())
			slip.Kind, slip.Period = books.Settlement, 1
			l.post(slip)
			l.post(books.Record{Kind: books.Found, Period: 1, Where: books.Tray,
				Figures: []books.Figure{kind(books.FoundAt, 3, 2)}})
			l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Till,
				Figures: []books.Figure{fig(books.Tried, 1, 1)}})
			s, err := stand.At(1, l.entries, time.Time{})
			if err != nil {
				t.Fatal(err)
			}
			if !s.Inside.Equal(money(6370)) || !s.ByBank.Equal(money(580)) || !s.Till.Equal(money(50)) ||
				len(s.Gaps) != 0 || !s.Sum().Equal(money(7000)) || !s.Missing().IsZero() {
				t.Errorf("there is %+v", s)
			}
			if owed := l.m.Owed(); !owed.Equal(money(50)) {
				t.Errorf("the till owes %s", owed)
			}
			l.post(books.Record{Kind: books.Moved, Period: 1, Reason: books.Returned,
				Moves: []books.Move{books.NewMove(books.Till, books.BoxPlace(1), "50", 1)}})
			if owed := l.m.Owed(); !owed.IsZero() {
				t.Errorf("the till still owes %s", owed)
			}
		})
	}
}

// Test notes are taken off the first slip after the test, and off no other.
func TestTestsAreTakenOffOnce(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Tray, Marks: []books.Mark{books.Counted},
		Figures: []books.Figure{fig(books.Tried, 1, 1)}})
	for range 2 {
		l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{kind(books.PaidOut, 1, 5)}})
	}
	if !l.m.Claims[0].Value.Equal(money(200)) || !l.m.Claims[1].Value.Equal(money(250)) {
		t.Errorf("due %s and %s, want 200 and 250", l.m.Claims[0].Value, l.m.Claims[1].Value)
	}
	left := l.m.Periods[0].TestsLeft
	if len(left) != 0 {
		t.Errorf("%v are to be taken off yet", left)
	}
}

// Nothing is gone that is not named, whatever happens.
func TestNothingIsGone(t *testing.T) {
	checks.Rapid(t, 100, 2_000, 100_000, func(rt *rapid.T) {
		l := newLedger(t)
		var claims []int64
		for range rapid.IntRange(1, 4).Draw(rt, "days") {
			l.day(rt)
			for _, c := range l.m.Claims {
				claims = append(claims, c.Seq)
			}
			if len(claims) > 0 {
				if _, err := l.try(somePayment(rt, claims)); err != nil {
					rt.Fatal(err)
				}
			}
			if target := rapid.Int64Range(1, l.m.Seq).Draw(rt, "target"); rapid.Bool().Draw(rt, "corrected") {
				_, _ = l.correct(target, altered(rt, l, target)) // refused ones leave no trace
			}
			s, err := stand.At(1, l.entries, time.Time{})
			if err != nil {
				rt.Fatal(err)
			}
			if !s.Missing().IsZero() {
				rt.Fatalf("%s is gone: %+v", s.Missing(), s)
			}
		}
	})
}

// day is one with differences, told by notes or by amounts, perhaps not to its end.
func (l *ledger) day(rt *rapid.T) {
	n := func(name string) int64 { return rapid.Int64Range(0, 40).Draw(rt, name) }
	l.post(opening())
	no := l.m.Open
	l.post(books.Record{Kind: books.TopUp, Period: no,
		Figures: []books.Figure{fig(books.Added, 2, n("added"))}})
	l.post(books.Record{Kind: books.Count, Period: no, Figures: []books.Figure{
		fig(books.Remaining, 1, n("left")), fig(books.Remaining, 2, n("left")), fig(books.Remaining, 3,
			n("left")),
		kind(books.Refused, 2, n("refused"))}})
	switch rapid.IntRange(0, 3).Draw(rt, "told") {
	case 0:
		return
	case 1:
		l.post(books.Record{Kind: books.Settlement, Period: no, Amounts: []books.Amount{
			{Field: books.PaidOut, Value: money(n("paid") * 10)}}})
	default:
		l.post(books.Record{Kind: books.Settlement, Period: no, Figures: []books.Figure{
			kind(books.PaidOut, 1, n("paid")), kind(books.PaidOut, 2, n("paid")), kind(books.Cancelled,
				3, n("back"))}})
	}
	l.post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
}
