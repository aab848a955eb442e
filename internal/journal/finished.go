package journal

import (
	"cmp"
	"slices"
	"time"

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
	return FinishedOn(s, books.New(id), entries, list)
}

// FinishedOn is [Finished] from books on that were folded over all entries before these, as
// [months.Reaching] finds them for a span: what was before that is one transaction, and
// only in that span, and for the sum of what was before it, months are told as they were.
func FinishedOn(s *shop.Shop, then *books.Machine, entries []books.Entry, list []shop.Finished) (
	[]Transaction, error) {
	all, err := on(s, then, entries)
	done := slices.DeleteFunc(months.Of(list, then.ID), func(m months.Month) bool { return m.Upto < then.Seq })
	if err != nil || len(done) == 0 {
		return all, err
	}
	p := past{s: s, then: then, entries: entries,
		reach: months.Reach(entries, func(at time.Time) shop.Date { return shop.DateOf(at.In(s.Location)) })}
	last := done[len(done)-1].Last
	kept := slices.DeleteFunc(all, func(t Transaction) bool { return t.Date <= last })
	from := shop.Date("")
	for _, m := range done {
		was, err := on(s, then, m.Cut(entries))
		if err != nil {
			return nil, err
		}
		for _, t := range was {
			if from <= t.Date && t.Date <= m.Last {
				kept = append(kept, t)
			}
		}
		late, err := p.late(from, m)
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

// past is what finished months are told of.
type past struct {
	s       *shop.Shop
	then    *books.Machine
	entries []books.Entry       // since
	reach   map[int64]shop.Date // the first day that each may change
}

// late is what each record after a month was finished did to the days until its end. Only
// those that may do so are looked at: each takes all entries to be folded anew.
func (p *past) late(from shop.Date, m months.Month) (late []Transaction, err error) {
	var before map[Account]decimal.Decimal
	for _, e := range p.entries {
		if e.Seq <= m.Upto || p.reach[e.Seq] > m.Last || !reaches(p.s, e, m.Last) {
			continue
		}
		if before == nil {
			if before, err = p.sums(m.Upto, from, m.Last); err != nil {
				return nil, err
			}
		}
		after, err := p.sums(e.Seq, from, m.Last)
		if err != nil {
			return nil, err
		}
		if list := changes(before, after); len(list) > 0 {
			late = append(late, Transaction{Date: shop.DateOf(e.Recorded.In(p.s.Location)), Kind: e.Kind, Seq: e.Seq,
				For: p.dayOf(e), Postings: list})
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

// dayOf is the day of what a record is about: what takes a correction back is about the day that
// was corrected. A record that says none is about the one on which it happened.
func (p *past) dayOf(e books.Entry) shop.Date {
	if e.Kind != books.Undo && e.Kind != books.Correction {
		return cmp.Or(e.Day, dateOf(p.s, e))
	}
	for _, o := range p.entries {
		if o.Seq == e.Target && o.Seq < e.Seq {
			return p.dayOf(o)
		}
	}
	return cmp.Or(e.Day, p.reach[e.Seq])
}

// sums are what the transactions of a span come to by the entries up to one.
func (p *past) sums(upto int64, from, to shop.Date) (sum map[Account]decimal.Decimal, err error) {
	list, err := on(p.s, p.then, months.Month{Upto: upto}.Cut(p.entries))
	sum = map[Account]decimal.Decimal{}
	for _, t := range list {
		if from <= t.Date && t.Date <= to {
			for _, x := range t.Postings {
				sum[x.Account] = sum[x.Account].Add(x.Value)
			}
		}
	}
	return sum, err
}
