package books_test

import (
	"testing"

	"shopfloat/internal/books"
)

// What happened before a count and is told after it comes to what it would have come to
// in its place: the boxes hold what was counted, and the day is the same.
func TestAfterCount(t *testing.T) {
	swap := books.Record{Kind: books.Swap, Period: 1, Figures: []books.Figure{
		fig(books.Left, 2, 20), fig(books.Added, 2, 100)}}
	change := books.Record{Kind: books.Moved, Period: 1, Reason: books.Change,
		Moves: []books.Move{books.NewMove(books.BoxPlace(3), books.Till, "10", 40)}}
	test := books.Record{Kind: books.Test, Period: 1, Where: books.Tray, Marks: []books.Mark{books.Counted},
		Figures: []books.Figure{fig(books.Tried, 1, 1), fig(books.Tried, 2, 1)}}
	topup := books.Record{Kind: books.TopUp, Period: 1, Figures: []books.Figure{fig(books.Added, 2, 50)}}
	level := books.Record{Kind: books.Level, Period: 1, Figures: []books.Figure{fig(books.Shown, 2, 70)}}
	for name, r := range map[string]books.Record{"top-up": topup, "swap": swap, "change": change, "test": test,
		"level": level} {
		count := left(1, 12, 60, 80, kind(books.Refused, 1, 1), kind(books.Refused, 2, 2))
		slip := paid(1, 28, 90, 80)
		before := newLedger(t)
		before.post(opening())
		before.post(r)
		before.post(count)
		late := r
		late.Marks = append(late.Marks[:len(late.Marks):len(late.Marks)], books.AfterCount)
		after := newLedger(t)
		after.post(opening())
		after.post(count)
		after.post(late)
		for _, l := range []*ledger{before, after} {
			l.heldTogether(t)
			if held := l.m.Inside(); held["50"] != 12 || held["20"] != 60 || held["10"] != 80 {
				t.Errorf("%s: %v is left for the next opening", name, held)
			}
			l.post(slip)
			l.post(closing(1, books.Cash))
			l.heldTogether(t)
		}
		a, b := before.m.Period(1), after.m.Period(1)
		if a.Verdict != b.Verdict || !a.Variance.Equal(b.Variance) || a.Tray["50"] != b.Tray["50"] {
			t.Errorf("%s: %s %s, told late %s %s", name, a.Verdict, a.Variance, b.Verdict, b.Variance)
		}
		for _, place := range []books.Place{books.Till, books.Cash, books.Customers, books.OverShort} {
			for _, face := range []string{"50", "20", "10"} {
				f := fig(books.Loaded, map[string]int{"50": 1, "20": 2, "10": 3}[face], 0).Face
				if x, y := before.m.Balance.At(place, f), after.m.Balance.At(place, f); x != y {
					t.Errorf("%s: %d of %s at %s, told late %d", name, x, face, place, y)
				}
			}
		}
	}
}
