package store_test

import (
	"reflect"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/tally"
)

// Days told from a checkpoint on are as they are told from the first record on,
// whatever was recorded, taken back and corrected; and they read less.
func TestLately(t *testing.T) {
	fewer := 0
	checks.Rapid(t, 4, 12, 2_000, func(rt *rapid.T) {
		db, path := open(t)
		defer func() { _ = db.Close() }()
		l := newLedger(t, db)
		post := func(r books.Record) {
			if r.Happened = l.now; books.Daily(r.Kind) {
				r.Day = shop.DateOf(l.now)
			}
			_ = l.try(r) // the books may refuse it
		}
		var slips []int64 // and whatever took their place
		for range 40 {
			no := l.books().Seq + 1
			post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
			for range rapid.IntRange(0, 2).Draw(rt, "records") {
				post(record(rt, l.books()))
			}
			post(books.Record{Kind: books.Count, Period: no, Figures: boxes(books.Remaining, 30, 100, 80)})
			post(books.Record{Kind: books.Settlement, Period: no, Figures: printed(books.PaidOut, 10, 50, 120)})
			slips = append(slips, l.books().Seq)
			post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
			if of := rapid.SampledFrom(slips).Draw(rt, "slip"); rapid.Bool().Draw(rt, "paid") {
				value := decimal.NewFromInt(rapid.Int64Range(1, 2700).Draw(rt, "value"))
				post(books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: value}},
					Parts: []books.Part{{As: books.Pays, Of: of, Value: value}}})
			}
			l.now = l.now.Add(24 * time.Hour)
		}
		within(t, db, l.now, func(tx *store.Tx) {
			s, err := tx.Shop(1)
			ok(t, err)
			kit := s.Machine(1)
			all, err := tx.Entries(1, time.Time{})
			ok(t, err)
			for back := range 40 {
				from := shop.DateOf(l.now).Add(-back)
				then, since, err := tx.Lately(1, from)
				ok(t, err)
				if then == nil {
					continue
				}
				fewer++
				want, err := tally.Of(s, kit, all, from, from.Add(3))
				ok(t, err)
				got, err := tally.On(s, kit, then, since, from, from.Add(3))
				ok(t, err)
				if len(since) >= len(all) || !reflect.DeepEqual(inWords(got.Days), inWords(want.Days)) {
					rt.Fatalf("from %s on, with %d of %d entries:\n%v\nwant\n%v", from, len(since), len(all),
						inWords(got.Days), inWords(want.Days))
				}
			}
		})
		for _, rep := range verify(t, path) { // corrections too were worked out from a checkpoint on
			if len(rep.Faults) > 0 {
				rt.Fatalf("%+v", rep)
			}
		}
	})
	if fewer == 0 {
		t.Error("nothing was told from a checkpoint")
	}
}

// inWords writes days so that equal sums are equal.
func inWords(days []*tally.Day) (list []string) {
	for _, d := range days {
		line := string(d.Date)
		for _, v := range d.Amounts() {
			line += " " + v.String()
		}
		for _, p := range d.Periods {
			line += " " + string(p.Status) + " " + string(p.Verdict) + " " + p.Variance.String()
		}
		list = append(list, line)
	}
	return list
}
