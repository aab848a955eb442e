package tally

import (
	"errors"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
)

// Finished adds days up like [Of]. Months that were finished stay as they were; what
// was recorded of their days since stands behind the days of the span in which it was.
func Finished(s *shop.Shop, kit *shop.Machine, entries []books.Entry, from, to shop.Date,
	list []shop.Finished) (*Machine, error) {
	out, err := Of(s, kit, entries, from, to)
	if err != nil || len(list) == 0 {
		return out, err
	}
	book := months.Book[*Day]{Entries: entries, Months: months.Of(list, kit.ID), Less: less,
		Local: func(at time.Time) shop.Date { return shop.DateOf(at.In(s.Location)) },
		Date:  func(d *Day) shop.Date { return d.Date },
		Days: func(entries []books.Entry, from, to shop.Date) []*Day {
			m, bad := Of(s, kit, entries, from, to)
			if err = errors.Join(err, bad); bad != nil {
				return nil
			}
			return m.Days
		}}
	days, late := book.Between(from, to)
	out.Days = append(days, late...)
	return out, err
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
		&d.Credited, &d.GivenUp, &d.Fees, &d.Charges, &d.Disputed, &d.Loose}
}

// Name is the date of a day as files have it, with "for" before that of a line of
// what was recorded since its month was finished.
func (d *Day) Name() string {
	if d.Late {
		return "for " + string(d.Date)
	}
	return string(d.Date)
}
