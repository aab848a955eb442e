// Package tally adds up a machine's days for the files that leave the program:
// money by day, what the bank owes and paid for each, and the days themselves. It
// is pure and knows no format.
package tally

import (
	"cmp"
	"errors"
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/months"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Day is one day of a machine in money. Fees, charges and customers' claims stand
// on the day they came; what was due and credited on the day it is for.
type Day struct {
	Date               shop.Date
	FromTill, FromBank decimal.Decimal // brought to machine or safe
	PaidOut, Back      decimal.Decimal
	Tests              decimal.Decimal
	Variance           decimal.Decimal
	Unknown            bool // a difference is not known yet
	Due, Credited      decimal.Decimal
	Fees, Charges      decimal.Decimal
	Disputed           decimal.Decimal
	Late               bool // what was recorded of a day of a finished month since then
	Closed             []shop.PersonID
	Periods            []*books.Period
}

// Open is what is still to come for the day.
func (d *Day) Open() decimal.Decimal { return d.Due.Sub(d.Credited) }

// Machine is a machine with its days within a span.
type Machine struct {
	Shop     *shop.Shop
	Kit      *shop.Machine
	From, To shop.Date // of the span asked for
	Days     []*Day
	Word     string // check word of its last entry
}

// Of adds up a machine's days from one date to another; empty dates leave a side
// open.
func Of(s *shop.Shop, kit *shop.Machine, entries []books.Entry, from, to shop.Date) (*Machine, error) {
	b := &builder{days: map[shop.Date]*Day{}, from: from, to: to}
	m, err := books.History(kit.ID, entries)
	if err != nil {
		return nil, err
	}
	known := reminders.NewDays(s)
	for _, p := range m.Periods {
		if d := b.at(cmp.Or(p.Date, known.DayOf(p.Opened))); d != nil {
			d.period(p)
		}
	}
	for _, c := range m.Claims {
		if d := b.at(cmp.Or(c.Day, known.DayOf(c.Opened))); d != nil {
			d.Due, d.Credited = d.Due.Add(c.Value), d.Credited.Add(c.Paid)
		}
	}
	err = books.Walk(kit.ID, entries, func(e books.Entry, now *books.Machine) {
		b.after(cmp.Or(e.Day, known.Today(e.Happened)), now)
	})
	if err != nil {
		return nil, err
	}
	out := &Machine{Shop: s, Kit: kit, From: from, To: to}
	out.Days = slices.SortedFunc(maps.Values(b.days), func(a, b *Day) int { return cmp.Compare(a.Date, b.Date) })
	return out, nil
}

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
	return d, !d.nothing()
}

// sums are all that can be added up.
func (d *Day) sums() []*decimal.Decimal {
	return []*decimal.Decimal{&d.FromTill, &d.FromBank, &d.PaidOut, &d.Back, &d.Tests, &d.Variance, &d.Due,
		&d.Credited, &d.Fees, &d.Charges, &d.Disputed}
}

// Name is the date of a day as files have it, with "for" before that of a line of
// what was recorded since its month was finished.
func (d *Day) Name() string {
	if d.Late {
		return "for " + string(d.Date)
	}
	return string(d.Date)
}

// builder collects days.
type builder struct {
	days     map[shop.Date]*Day
	from, to shop.Date
	till     decimal.Decimal // as it was after the record before
	bank     decimal.Decimal
	money    books.Money
}

// at gives a day of the span, or nil.
func (b *builder) at(date shop.Date) *Day {
	if b.from != "" && date < b.from || b.to != "" && date > b.to {
		return nil
	}
	if b.days[date] == nil {
		b.days[date] = &Day{Date: date}
	}
	return b.days[date]
}

func (d *Day) period(p *books.Period) {
	paid, back := p.Paid()
	d.PaidOut, d.Back = d.PaidOut.Add(paid), d.Back.Add(back)
	d.Tests = d.Tests.Add(p.Tests.Value())
	d.Periods = append(d.Periods, p)
	if p.Status != books.Closed || p.Has(books.Unsettled) {
		d.Unknown = true
	} else {
		d.Variance = d.Variance.Add(p.Variance)
	}
	if p.EndedBy != 0 && !slices.Contains(d.Closed, p.EndedBy) {
		d.Closed = append(d.Closed, p.EndedBy)
	}
}

// after takes what a record changed at till and bank into the day it happened on.
func (b *builder) after(date shop.Date, m *books.Machine) {
	till, bank, money := m.Balance[books.Till].Value(), m.Balance[books.Bank].Value(), m.Money
	same := till.Equal(b.till) && bank.Equal(b.bank) && money.Fees.Equal(b.money.Fees) &&
		money.Charges.Equal(b.money.Charges) && money.Disputed.Equal(b.money.Disputed)
	if d := b.at(date); d != nil && !same {
		d.FromTill = d.FromTill.Add(b.till).Sub(till)
		d.FromBank = d.FromBank.Add(b.bank).Sub(bank)
		d.Fees = d.Fees.Add(money.Fees).Sub(b.money.Fees)
		d.Charges = d.Charges.Add(money.Charges).Sub(b.money.Charges)
		d.Disputed = d.Disputed.Add(money.Disputed).Sub(b.money.Disputed)
	} else if d != nil && same {
		b.drop(d)
	}
	b.till, b.bank, b.money = till, bank, money
}

// drop takes a day away again on which nothing was told.
func (b *builder) drop(d *Day) {
	if len(d.Periods) == 0 && d.nothing() {
		delete(b.days, d.Date)
	}
}

func (d *Day) nothing() bool {
	for _, v := range d.Amounts() {
		if !v.IsZero() {
			return false
		}
	}
	return true
}

// Columns name the amounts of a day, in the order of [Day.Amounts]. They are for
// a spreadsheet and the same in every language.
var Columns = []string{"from till", "from bank", "paid out", "reversed", "test notes", "variance", "due",
	"credited",
	"fees", "charges", "customers' claims", "open"}

// VarianceColumn is the place of the difference among the amounts: it may be not
// known, which is not nothing.
const VarianceColumn = 5

// Amounts lists the amounts of a day.
func (d *Day) Amounts() []decimal.Decimal {
	return []decimal.Decimal{d.FromTill, d.FromBank, d.PaidOut, d.Back, d.Tests, d.Variance, d.Due, d.Credited,
		d.Fees, d.Charges, d.Disputed, d.Open()}
}

// Total adds days up.
func Total(days []*Day) *Day {
	t := &Day{}
	for _, d := range days {
		t.FromTill, t.FromBank = t.FromTill.Add(d.FromTill), t.FromBank.Add(d.FromBank)
		t.PaidOut, t.Back, t.Tests = t.PaidOut.Add(d.PaidOut), t.Back.Add(d.Back), t.Tests.Add(d.Tests)
		t.Variance, t.Unknown = t.Variance.Add(d.Variance), t.Unknown || d.Unknown
		t.Due, t.Credited = t.Due.Add(d.Due), t.Credited.Add(d.Credited)
		t.Fees, t.Charges, t.Disputed = t.Fees.Add(d.Fees), t.Charges.Add(d.Charges), t.Disputed.Add(d.Disputed)
	}
	return t
}
