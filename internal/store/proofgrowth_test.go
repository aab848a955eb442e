//go:build unix

package store_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

// What is put right is proved in a time that grows like the entries, and not like their
// square: four times the days, the slip of each corrected on the next morning, take about
// four times as long.
func TestProofOfCorrections(t *testing.T) {
	const times = 4
	days := checks.Size(t, 20, 60, 500)
	few, n := proofOf(t, days)
	many, corrections := proofOf(t, times*days)
	t.Logf("%d corrections: %v of the processor; %d: %v", n, few, corrections, many)
	if many > 2*times*few {
		t.Errorf("%d days take %v of the processor, %d take %v", days, few, times*days, many)
	}
}

// proofOf is what verifying so many days takes of the processor.
func proofOf(t *testing.T, days int) (took time.Duration, corrections int) {
	db, path := open(t)
	l := newLedger(t, db)
	slip, paid := int64(0), books.Record{}
	for range days {
		tx, err := db.Begin(l.now)
		ok(t, err)
		opened := l.cause + 1 // whose number is that of its entry
		post := func(r books.Record) {
			l.cause++
			l.now = l.now.Add(time.Minute)
			r.Happened = l.now
			ok(t, tx.Post(1, store.By{Person: 1, Settings: 1, Cause: l.cause}, r, l.salt))
		}
		post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
		if slip != 0 {
			in := paid
			in.Happened = l.now
			post(books.Record{Kind: books.Correction, Target: slip, Period: in.Period, Reason: books.Mistyped,
				Instead: &in})
			corrections++
		}
		post(books.Record{Kind: books.TopUp, Period: opened, Figures: boxes(books.Added, 0, 10, 0)})
		post(books.Record{Kind: books.Count, Period: opened, Figures: boxes(books.Remaining, 30, 70, 80)})
		paid = books.Record{Kind: books.Settlement, Period: opened, Figures: printed(books.PaidOut, 10, 90, 120)}
		post(paid)
		slip = l.cause
		post(books.Record{Kind: books.Close, Period: opened, Where: books.Cash})
		ok(t, tx.Commit())
		l.now = l.now.Add(20 * time.Hour)
	}
	took = checks.Processor(t)
	for _, rep := range verify(t, path) {
		if len(rep.Faults) > 0 {
			t.Fatalf("%v", rep.Faults)
		}
	}
	return checks.Processor(t) - took, corrections
}
