package journal

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
)

// Finished lists a machine's transactions like [Of]. Months that were finished stay
// as they were: what a record did to them since is a transaction of the day on which
// it was recorded.
func Finished(s *shop.Shop, id shop.MachineID, entries []books.Entry, list []shop.Finished) (
	[]Transaction, error) {
	all, err := Of(s, id, entries)
	done := months.Of(list, id)
	if err != nil || len(done) == 0 {
		return all, err
	}
	last := done[len(done)-1].Last
	kept := slices.DeleteFunc(all, func(t Transaction) bool { return t.Date <= last })
	from := shop.Date("")
	for _, m := range done {
		was, err := Of(s, id, until(entries, m.Upto))
		if err != nil {
			return nil, err
		}
		for _, t := range was {
			if from <= t.Date && t.Date <= m.Last {
				kept = append(kept, t)
			}
		}
		late, err := lateFor(s, id, entries, from, m)
		if err != nil {
			return nil, err
		}
		kept, from = append(kept, late...), m.Last.Add(1)
	}
	slices.SortStableFunc(kept, func(a, b Transaction) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.For, b.For))
	})
	return kept, nil
}

// lateFor is what each record after a month was finished did to the days until its end.
func lateFor(s *shop.Shop, id shop.MachineID, entries []books.Entry, from shop.Date, m months.Month) (
	late []Transaction, err error) {
	before, err := sums(s, id, until(entries, m.Upto), from, m.Last)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if e.Seq <= m.Upto || !reaches(s, e, m.Last) {
			continue
		}
		after, err := sums(s, id, until(entries, e.Seq), from, m.Last)
		if err != nil {
			return nil, err
		}
		if p := changes(before, after); len(p) > 0 {
			late = append(late, Transaction{Date: shop.DateOf(e.Recorded.In(s.Location)), Kind: e.Kind, Seq: e.Seq,
				For: dayOf(s, e, entries), Postings: p})
		}
		before = after
	}
	return late, nil
}

// reaches reports whether a record may change what stands until a day: it is of
// before its end, or says that another holds no more.
func reaches(s *shop.Shop, e books.Entry, last shop.Date) bool {
	return e.Kind == books.Undo || e.Kind == books.Correction || e.Kind == books.Dated ||
		dateOf(s, e) <= last
}

// dayOf is the day of what a record is about: what takes a correction back is about the
// day that was corrected. A record that says none is about the one on which it happened.
func dayOf(s *shop.Shop, e books.Entry, entries []books.Entry) shop.Date {
	for _, o := range entries {
		if o.Seq == e.Target && o.Seq < e.Seq && (e.Kind == books.Undo || e.Kind == books.Correction) {
			return dayOf(s, o, entries)
		}
	}
	return cmp.Or(e.Day, dateOf(s, e))
}

// sums are what the transactions of a span come to.
func sums(s *shop.Shop, id shop.MachineID, entries []books.Entry, from, to shop.Date) (
	sum map[Account]decimal.Decimal, err error) {
	list, err := Of(s, id, entries)
	sum = map[Account]decimal.Decimal{}
	for _, t := range list {
		if from <= t.Date && t.Date <= to {
			for _, p := range t.Postings {
				sum[p.Account] = sum[p.Account].Add(p.Value)
			}
		}
	}
	return sum, err
}

func until(entries []books.Entry, seq int64) []books.Entry {
	i := slices.IndexFunc(entries, func(e books.Entry) bool { return e.Seq > seq })
	if i < 0 {
		return entries
	}
	return entries[:i]
}
