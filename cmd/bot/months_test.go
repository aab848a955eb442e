package main

import (
	"maps"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
)

// monthsOf lists the months in which a ledger has something, each finished by the
// middle of what was recorded from its begin to the end of the ledger.
func monthsOf(t *testing.T, s *shop.Shop, id shop.MachineID, entries []books.Entry) []shop.Finished {
	t.Helper()
	first := map[string]int64{}
	for _, e := range entries {
		month := string(shop.DateOf(e.Recorded.In(s.Location)))[:7]
		if _, ok := first[month]; !ok {
			first[month] = e.Seq
		}
	}
	var list []shop.Finished
	last := entries[len(entries)-1].Seq
	for _, month := range slices.Sorted(maps.Keys(first)) {
		list = append(list, shop.Finished{Month: month,
			Upto: map[shop.MachineID]int64{id: first[month] + (last-first[month])/2}})
	}
	return list
}

// upTo is the ledger as it was when an entry was the last.
func upTo(entries []books.Entry, seq int64) []books.Entry {
	return slices.DeleteFunc(slices.Clone(entries), func(e books.Entry) bool { return e.Seq > seq })
}

// Of every file of an earlier program: whatever months are finished in the middle
// of things, each keeps the figures that it had then, and all months together come
// to what they come to where none is finished. So does the journal.
func TestFinishedMonthsAddUp(t *testing.T) {
	t.Parallel()
	var late, months atomic.Int64
	inEach(t, some(t, fixtureNames(t)), func(t *testing.T, name string) {
		file := started(t, unpacked(t, name))
		err := eachLedger(&env{ctx: t.Context()}, file, 0, "",
			func(s *shop.Shop, kit *shop.Machine, entries []books.Entry) error {
				if len(entries) == 0 {
					return nil
				}
				list := monthsOf(t, s, kit.ID, entries)
				months.Add(int64(len(list)))
				late.Add(int64(addsUp(t, s, kit, entries, list)))
				return journalAddsUp(t, s, kit, entries, list)
			})
		if err != nil {
			t.Error(err)
		}
	})
	if late.Load() == 0 || months.Load() == 0 {
		t.Errorf("only %d late lines in %d months of all files", late.Load(), months.Load())
	}
}

// addsUp compares months one by one with all of them, and tells how many lines were late.
func addsUp(t *testing.T, s *shop.Shop, kit *shop.Machine, entries []books.Entry, list []shop.Finished) (
	late int) {
	t.Helper()
	days := func(entries []books.Entry, from, to shop.Date, list []shop.Finished) []*tally.Day {
		m, err := tally.Finished(s, kit, entries, from, to, list)
		if err != nil {
			t.Fatal(err)
		}
		return m.Days
	}
	whole, parts := tally.Total(days(entries, "", "", nil)), []*tally.Day{}
	begin := shop.Date("1970-01-01")
	for i, f := range append(list, shop.Finished{}) {
		from, to := begin, shop.Date("2100-12-31")
		if i < len(list) {
			from, to = f.First(), shop.DateOf(f.First().Time().AddDate(0, 1, -1))
			parts = append(parts, days(entries, begin, from.Add(-1), list)...) // months with nothing recorded
			begin = to.Add(1)
		}
		var own []*tally.Day
		for _, d := range days(entries, from, to, list) {
			if parts = append(parts, d); d.Late {
				late++
			} else {
				own = append(own, d)
			}
		}
		if i < len(list) {
			was := tally.Total(days(upTo(entries, f.Upto[kit.ID]), from, to, nil))
			sameDay(t, "finished "+f.Month, tally.Total(own), was)
		}
	}
	sameDay(t, "all months", tally.Total(parts), whole)
	return late
}

func sameDay(t *testing.T, what string, got, want *tally.Day) {
	t.Helper()
	for i, v := range want.Amounts() {
		if !got.Amounts()[i].Equal(v) {
			t.Errorf("%s: %s is %s, want %s", what, tally.Columns[i], got.Amounts()[i], v)
		}
	}
}

// journalAddsUp compares what all accounts come to, and the days of each finished month.
func journalAddsUp(t *testing.T, s *shop.Shop, kit *shop.Machine, entries []books.Entry,
	list []shop.Finished) error {
	t.Helper()
	sums := func(list []journal.Transaction, month string) map[journal.Account]decimal.Decimal {
		sum := map[journal.Account]decimal.Decimal{}
		for _, x := range list {
			if month == "" || x.For == "" && string(x.Date)[:7] == month {
				for _, p := range x.Postings {
					sum[p.Account] = sum[p.Account].Add(p.Value)
				}
			}
		}
		maps.DeleteFunc(sum, func(_ journal.Account, d decimal.Decimal) bool { return d.IsZero() })
		return sum
	}
	same := func(what string, a, b map[journal.Account]decimal.Decimal) {
		t.Helper()
		if !maps.EqualFunc(a, b, decimal.Decimal.Equal) {
			t.Errorf("%s: %v, want %v", what, a, b)
		}
	}
	whole, err := journal.Of(s, kit.ID, entries)
	if err != nil {
		return err
	}
	got, err := journal.Finished(s, kit.ID, entries, list)
	if err != nil {
		return err
	}
	same("all of the journal", sums(got, ""), sums(whole, ""))
	for _, f := range list {
		was, err := journal.Of(s, kit.ID, upTo(entries, f.Upto[kit.ID]))
		if err != nil {
			return err
		}
		same("the journal of "+f.Month, sums(got, f.Month), sums(was, f.Month))
	}
	return nil
}
