// Package months keeps the figures of finished months. What becomes of one later —
// a correction, something taken back, a day that comes late, a payment — stands in
// the span in which it was recorded, as lines of their own. It is pure, and knows of
// figures only that they can be taken from one another.
package months

import (
	"cmp"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Month is a finished month as one machine's ledger knows it.
type Month struct {
	First, Last shop.Date
	Upto        int64 // the last entry that is in it
}

// Of lists the finished months of a machine, oldest first.
func Of(list []shop.Finished, id shop.MachineID) (months []Month) {
	for _, f := range list {
		first := f.First()
		months = append(months, Month{First: first, Last: shop.DateOf(first.Time().AddDate(0, 1, -1)),
			Upto: f.Upto[id]})
	}
	slices.SortFunc(months, func(a, b Month) int { return cmp.Compare(a.First, b.First) })
	return months
}

// Book are a machine's entries with what says how its days are told.
type Book[D any] struct {
	Entries []books.Entry // the whole ledger, oldest first
	Months  []Month
	Local   func(time.Time) shop.Date
	Days    func(entries []books.Entry, from, to shop.Date) []D
	Date    func(D) shop.Date
	// Less gives what a day has become more than it was, as a line of its own; false:
	// nothing that is told. Either may be the zero value: there was no such day.
	Less func(now, was D) (D, bool)
}

// Between gives the days of a span, finished months as they were finished, and the
// lines of what was recorded in the span for days of finished months. Empty dates
// leave a side open.
func (b *Book[D]) Between(from, to shop.Date) (days, late []D) {
	days = b.Days(b.Entries, from, to)
	if len(b.Months) == 0 {
		return days, nil
	}
	first := Reach(b.Entries, b.Local)
	for _, m := range b.Months {
		inside := func(d D) bool { return m.First <= b.Date(d) && b.Date(d) <= m.Last }
		if !(from != "" && m.Last < from || to != "" && m.First > to) {
			kept := b.Days(upto(b.Entries, m.Upto), later(from, m.First), earlier(to, m.Last))
			days = append(slices.DeleteFunc(days, inside), kept...)
		}
		if before, after, touched := b.recorded(m, from, to, first); touched {
			late = append(late, b.between(m, before, after)...)
		}
	}
	slices.SortStableFunc(days, func(x, y D) int { return cmp.Compare(b.Date(x), b.Date(y)) })
	return days, late
}

// recorded gives the entries behind a month that were recorded within a span, and whether
// any of them reaches into it: two folds are spared where none does.
func (b *Book[D]) recorded(m Month, from, to shop.Date, first map[int64]shop.Date) (before, after int64,
	touched bool) {
	before, after = m.Upto, m.Upto
	for _, e := range b.Entries {
		switch day := b.Local(e.Recorded); {
		case e.Seq <= m.Upto:
		case from != "" && day < from:
			before, after = e.Seq, e.Seq
		case to == "" || day <= to:
			after, touched = e.Seq, touched || first[e.Seq] <= m.Last
		}
	}
	return before, after, touched && after > before
}

// between is what entries did to the days of a finished month.
func (b *Book[D]) between(m Month, before, after int64) (late []D) {
	was, now := map[shop.Date]D{}, map[shop.Date]D{}
	var dates []shop.Date
	for _, side := range []struct {
		to   map[shop.Date]D
		upto int64
	}{{was, before}, {now, after}} {
		for _, d := range b.Days(upto(b.Entries, side.upto), m.First, m.Last) {
			side.to[b.Date(d)] = d
			dates = append(dates, b.Date(d))
		}
	}
	slices.Sort(dates)
	for _, date := range slices.Compact(dates) {
		if d, ok := b.Less(now[date], was[date]); ok {
			late = append(late, d)
		}
	}
	return late
}

// Cut gives the entries that are in the month.
func (m Month) Cut(entries []books.Entry) []books.Entry { return upto(entries, m.Upto) }

func upto(entries []books.Entry, seq int64) []books.Entry {
	by := func(e books.Entry, s int64) int { return cmp.Compare(e.Seq, s) }
	n, _ := slices.BinarySearchFunc(entries, seq+1, by)
	return entries[:n]
}

func later(a, b shop.Date) shop.Date { return max(a, b) }

func earlier(a, b shop.Date) shop.Date {
	if a == "" {
		return b
	}
	return min(a, b)
}
