package books_test

import (
	"testing"

	"shopfloat/internal/books"
)

// Every closed period comes once, as History keeps it; what is open does not.
func TestEnded(t *testing.T) {
	l := newLedger(t)
	for i := range 5 {
		l.post(opening())
		no := l.m.Open
		if i == 4 {
			break
		}
		l.post(books.Record{Kind: books.Count, Period: no, Figures: []books.Figure{
			fig(books.Remaining, 1, 40), fig(books.Remaining, 2, int64(100+i)), fig(books.Remaining, 3, 200)}})
		l.post(books.Record{Kind: books.Settlement, Period: no, Figures: []books.Figure{
			kind(books.PaidOut, 2, int64(50-i))}})
		l.post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
	}
	all, err := books.History(1, l.entries)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	err = books.Ended(1, l.entries, func(p *books.Period) {
		if want := all.Periods[n]; p.No != want.No || p.Boxes[1].Remaining != want.Boxes[1].Remaining {
			t.Errorf("period %d: %+v, want %+v", n, p, want)
		}
		n++
	})
	if err != nil || n != 4 {
		t.Errorf("%d periods, %v; want 4", n, err)
	}
	if err := books.Ended(1, l.entries[1:], func(*books.Period) {}); err == nil {
		t.Error("a ledger without its beginning is taken")
	}
}
