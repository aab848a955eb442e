package store_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
)

// What is kept for advice stands in parts: a close writes the last one alone, whatever is taken
// back or corrected around the end of one, and all of them together are what the records tell.
func TestLearntInParts(t *testing.T) {
	db, path := open(t)
	l := newLedger(t, db)
	type sold struct{ no, slip, closed int64 }
	var days []sold
	trade := func(tens int64) {
		today := shop.DateOf(l.now)
		no := l.books().Seq + 1
		l.post(books.Record{Kind: books.Opening, Day: today, Figures: boxes(books.Loaded, 40, 150, 200)},
			books.Record{Kind: books.Moved, Period: no, Reason: books.Warning,
				Moves: []books.Move{{From: books.BoxPlace(3), To: books.Till, Face: "10", Notes: 2}}},
			books.Record{Kind: books.Count, Period: no, Figures: boxes(books.Remaining, 30, 100, 198-tens)},
			books.Record{Kind: books.Settlement, Period: no, Day: today,
				Figures: printed(books.PaidOut, 10, 50, tens)},
			books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		days = append(days, sold{no, no + 3, no + 4})
		l.now = l.now.Add(20 * time.Hour)
	}
	holds := func(when string) {
		t.Helper()
		for _, rep := range verify(t, path) {
			if len(rep.Faults) > 0 {
				t.Fatalf("%s: %v", when, rep.Faults)
			}
		}
	}
	correct := func(back int, tens int64) {
		d := days[len(days)-back]
		l.post(books.Record{Kind: books.Correction, Reason: books.Mistyped, Target: d.slip, Period: d.no,
			Instead: &books.Record{Kind: books.Settlement, Happened: l.now, Period: d.no,
				Figures: printed(books.PaidOut, 10, 50, tens)}})
	}
	for range checks.Size(t, 101, 201, 301) {
		trade(120)
	}
	holds("when a part is full")
	last := days[len(days)-1]
	l.post(books.Record{Kind: books.Undo, Period: last.no, Target: last.closed})
	holds("when its first close behind is taken back")
	l.post(books.Record{Kind: books.Close, Period: last.no, Where: books.Cash})
	days[len(days)-1].closed = l.books().Seq
	holds("when it is closed again")
	for _, back := range []int{1, 2, 9, 40, 99} {
		correct(back, 110+int64(back%5))
		trade(130)
	}
	holds("when slips on both sides are corrected")
	parts, long := 0, 0
	ok(t, plain(t, path).QueryRow("SELECT count(*), max(length(body)) FROM learnt").Scan(&parts, &long))
	if want := (len(days) + 99) / 100; parts != want || long > 16_000 {
		t.Errorf("%d parts of %d days, the longest of %d letters; want %d", parts, len(days), long, want)
	}
	_, err := plain(t, path).Exec(`UPDATE learnt SET body = '{"v":1}'`)
	ok(t, err)
	trade(120)
	holds("when another form of it was kept")
	ok(t, db.Close())
}
