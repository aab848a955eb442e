package tally

import (
	"cmp"
	"errors"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
)

// Finished adds days up like [Of]. Months that were finished stay as they were; what
// was recorded of their days since stands behind the days of the span in which it was,
// and so does what became of their payments.
func Finished(s *shop.Shop, kit *shop.Machine, entries []books.Entry, from, to shop.Date,
	list []shop.Finished) (*Machine, error) {
	return FinishedOn(s, kit, books.New(kit.ID), entries, from, to, list)
}

// FinishedOn is [Finished] from books on that were folded over all entries before these:
// [months.Wants] says which ones do.
func FinishedOn(s *shop.Shop, kit *shop.Machine, then *books.Machine, entries []books.Entry,
	from, to shop.Date, list []shop.Finished) (*Machine, error) {
	out, err := On(s, kit, then, entries, from, to)
	if err != nil || len(list) == 0 {
		return out, err
	}
	type span struct {
		upto     int
		from, to shop.Date
	}
	known := map[span]*Machine{}
	of := func(entries []books.Entry, from, to shop.Date) *Machine {
		key := span{len(entries), from, to} // entries are always the first of all
		if known[key] == nil {
			m, bad := On(s, kit, then, entries, from, to)
			if err = errors.Join(err, bad); bad != nil {
				m = &Machine{}
			}
			known[key] = m
		}
		return known[key]
	}
	local := func(at time.Time) shop.Date { return shop.DateOf(at.In(s.Location)) }
	done := months.Of(list, kit.ID)
	book := months.Book[*Day]{Entries: entries, Months: done, Less: less, Local: local,
		Date: func(d *Day) shop.Date { return d.Date },
		Days: func(entries []books.Entry, from, to shop.Date) []*Day {
			return slices.Clone(of(entries, from, to).Days)
		}}
	days, late := book.Between(from, to)
	out.Days = append(days, late...)
	paid := months.Book[payday]{Entries: entries, Months: done, Less: payday.less, Local: local,
		Date: func(d payday) shop.Date { return d.date },
		Days: func(entries []books.Entry, from, to shop.Date) []payday {
			return paydays(of(entries, from, to).Payments)
		}}
	was, since := paid.Between(from, to)
	out.Payments = nil
	for _, d := range append(was, since...) {
		out.Payments = append(out.Payments, d.list...)
	}
	return out, err
}

// payday is what came on one day.
type payday struct {
	date shop.Date
	list []Payment
}

// paydays puts payments together by day, in the order of the days.
func paydays(list []Payment) (days []payday) {
	for _, p := range list {
		i := slices.IndexFunc(days, func(d payday) bool { return d.date == p.Date })
		if i < 0 {
			i, days = len(days), append(days, payday{date: p.Date})
		}
		days[i].list = append(days[i].list, p)
	}
	slices.SortStableFunc(days, func(a, b payday) int { return cmp.Compare(a.date, b.date) })
	return days
}

// less is what the payments of a day have become more than they were: each record's
// for each day that it is for, without those that are what they were.
func (d payday) less(was payday) (payday, bool) {
	out := payday{date: cmp.Or(d.date, was.date)}
	add := func(list []Payment, sign int64) {
		for i := range list {
			p := &list[i]
			at := slices.IndexFunc(out.list, func(o Payment) bool {
				return o.Entry == p.Entry && o.Ref == p.Ref && o.ClaimDay == p.ClaimDay
			})
			if at < 0 {
				at = len(out.list)
				out.list = append(out.list, Payment{Date: p.Date, Late: true, Ref: p.Ref, Entry: p.Entry,
					ClaimDay: p.ClaimDay})
			}
			out.list[at].plus(p, sign)
		}
	}
	add(was.list, -1)
	add(d.list, 1)
	out.list = slices.DeleteFunc(out.list, func(p Payment) bool {
		return !slices.ContainsFunc(p.Amounts(), func(v decimal.Decimal) bool { return !v.IsZero() })
	})
	return out, len(out.list) > 0
}

// less is what a day has become more than it was.
func less(now, was *Day) (*Day, bool) {
	d := &Day{Late: true}
	add := func(x *Day, sign int64) {
		if x == nil {
			return
		}
		for i, f := range d.sums() {
			*f = f.Add(x.sums()[i].Mul(decimal.NewFromInt(sign)))
		}
		d.Date, d.Unknown = x.Date, x.Unknown
	}
	add(was, -1)
	add(now, 1)
	d.Known = !d.Variance.IsZero()
	return d, !d.nothing()
}

// sums are all that can be added up.
func (d *Day) sums() []*decimal.Decimal {
	return []*decimal.Decimal{&d.FromTill, &d.FromBank, &d.PaidOut, &d.Back, &d.Tests, &d.Variance, &d.Due,
		&d.Credited, &d.GivenUp, &d.Fees, &d.Charges, &d.Disputed, &d.Loose, &d.Tax}
}

// Name is the date of a day as files have it, with "for" before that of a line of
// what was recorded since its month was finished.
func (d *Day) Name() string {
	if d.Late {
		return "for " + string(d.Date)
	}
	return string(d.Date)
}
