// Package tally adds up a machine's days for the files that leave the program:
// money by day, what the bank owes and paid for each, and the days themselves. It
// is pure and knows no format.
package tally

import (
	"cmp"
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Day is one day of a machine in money. Fees, charges and customers' claims stand
// on the day they came; what was due, credited and given up on the day it is for; a
// slip on its own day, its period's difference on the day that was opened.
type Day struct {
	Date               shop.Date
	FromTill, FromBank decimal.Decimal // brought to machine or safe
	PaidOut, Back      decimal.Decimal
	Tests              decimal.Decimal
	Variance           decimal.Decimal
	Unknown            bool // a difference is not known, or not yet
	Known              bool // some difference is: of a total both can be
	Due, Credited      decimal.Decimal
	GivenUp            decimal.Decimal // of what was due
	Fees, Charges      decimal.Decimal
	Tax                decimal.Decimal // in the fees, by what the shop says of its own
	Disputed           decimal.Decimal
	Late               bool            // what was recorded of a day of a finished month since then
	Loose              decimal.Decimal // unmatched or overpaid, less what was matched of it
	Closed             []shop.PersonID
	Periods            []*books.Period
}

// Open is what is still to come for the day.
func (d *Day) Open() decimal.Decimal { return d.Due.Sub(d.Credited).Sub(d.GivenUp) }

// Machine is a machine with its days within a span.
type Machine struct {
	Shop     *shop.Shop
	Kit      *shop.Machine
	From, To shop.Date // of the span asked for
	Days     []*Day
	Payments []Payment // in the order in which they came
	Word     string    // check word of its last entry
}

// Of adds up a machine's days from one date to another; empty dates leave a side
// open.
func Of(s *shop.Shop, kit *shop.Machine, entries []books.Entry, from, to shop.Date) (*Machine, error) {
	return On(s, kit, books.New(kit.ID), entries, from, to)
}

// On is Of from books on that stood before any record of these days, with the entries
// since.
func On(s *shop.Shop, kit *shop.Machine, then *books.Machine, entries []books.Entry, from, to shop.Date) (
	*Machine, error) {
	b := &builder{days: map[shop.Date]*Day{}, refs: map[int64]string{}, from: from, to: to}
	b.stand(then)
	known, forDay := reminders.NewDays(s), map[int64]shop.Date{} // by settlement, and by opening
	var payments []dated
	m, err := books.WalkOn(then, entries, func(e books.Entry, now *books.Machine) {
		date := cmp.Or(e.Day, known.Today(e.Happened))
		b.after(date, now)
		if e.Ref != "" {
			b.refs[e.Seq] = e.Ref
		}
		if len(e.Parts) > 0 {
			payments = append(payments, dated{e, date})
		}
	})
	if err != nil {
		return nil, err
	}
	for _, p := range m.Periods {
		day := cmp.Or(p.Date, known.DayOf(p.Opened))
		forDay[p.No] = day
		if d := b.at(day); d != nil {
			d.period(p)
		}
		for i := range p.Slips {
			if d := b.at(cmp.Or(p.Slips[i].Day, day)); d != nil {
				d.slip(&p.Slips[i])
			}
		}
	}
	for _, c := range m.Claims {
		forDay[c.Seq] = cmp.Or(c.Day, known.DayOf(c.Opened))
		if d := b.at(forDay[c.Seq]); d != nil {
			d.Due, d.Credited, d.GivenUp = d.Due.Add(c.Value), d.Credited.Add(c.Paid), d.GivenUp.Add(c.GivenUp)
		}
	}
	for _, p := range payments {
		b.payment(p.date, p.Entry, forDay)
	}
	maps.DeleteFunc(b.days, func(_ shop.Date, d *Day) bool { return len(d.Periods) == 0 && d.nothing() })
	out := &Machine{Shop: s, Kit: kit, From: from, To: to, Payments: b.payments}
	digits := digitsOf(s.Currency)
	for _, d := range b.days {
		d.Tax = s.FeeOn(d.Date).TaxIn(d.Fees, digits)
	}
	out.Days = slices.SortedFunc(maps.Values(b.days), func(a, b *Day) int { return cmp.Compare(a.Date, b.Date) })
	return out, nil
}

// dated is an entry with the day it is told under.
type dated struct {
	books.Entry
	date shop.Date
}

func digitsOf(currency string) int32 {
	c, err := cashmath.LookupCurrency(currency)
	if err != nil {
		return 2
	}
	return int32(c.Digits())
}

// builder collects days.
type builder struct {
	days     map[shop.Date]*Day
	from, to shop.Date
	till     decimal.Decimal // as it was after the record before
	bank     decimal.Decimal
	loose    decimal.Decimal
	money    books.Money
	payments []Payment
	refs     map[int64]string // of payments so far, by the number of their record
}

func (b *builder) within(date shop.Date) bool {
	return (b.from == "" || date >= b.from) && (b.to == "" || date <= b.to)
}

// at gives a day of the span, or nil.
func (b *builder) at(date shop.Date) *Day {
	if !b.within(date) {
		return nil
	}
	if b.days[date] == nil {
		b.days[date] = &Day{Date: date}
	}
	return b.days[date]
}

func (d *Day) period(p *books.Period) {
	d.Tests = d.Tests.Add(p.Tests.Value())
	d.Periods = append(d.Periods, p)
	if p.Status != books.Closed || p.Verdict == books.NotComplete || p.Has(books.Unsettled) {
		d.Unknown = true
	} else {
		d.Variance, d.Known = d.Variance.Add(p.Variance), true
	}
	if p.EndedBy != 0 && !slices.Contains(d.Closed, p.EndedBy) {
		d.Closed = append(d.Closed, p.EndedBy)
	}
}

// slip takes a slip into its own day, which may be another than its period's.
func (d *Day) slip(s *books.Slip) {
	d.PaidOut, d.Back = d.PaidOut.Add(s.Paid()), d.Back.Add(s.Cancelled())
}

// after takes what a record changed at till and bank into the day it happened on.
func (b *builder) after(date shop.Date, m *books.Machine) {
	was := *b
	b.stand(m)
	if d := b.at(date); d != nil { // one on which nothing is told goes at the end
		d.FromTill = d.FromTill.Add(was.till).Sub(b.till)
		d.FromBank = d.FromBank.Add(was.bank).Sub(b.bank)
		d.Fees = d.Fees.Add(b.money.Fees).Sub(was.money.Fees)
		d.Charges = d.Charges.Add(b.money.Charges).Sub(was.money.Charges)
		d.Disputed = d.Disputed.Add(b.money.Disputed).Sub(was.money.Disputed)
		d.Loose = d.Loose.Add(b.loose).Sub(was.loose)
	}
}

// stand takes note of where the money is.
func (b *builder) stand(m *books.Machine) {
	b.till, b.bank, b.money = m.Balance[books.Till].Value(), m.Balance[books.Bank].Value(), m.Money
	b.loose = decimal.Zero
	for _, l := range m.Loose {
		b.loose = b.loose.Add(l.Value)
	}
}

func (d *Day) nothing() bool {
	for _, v := range append(d.Amounts(), d.GivenUp, d.Loose) {
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
		t.Variance, t.Unknown, t.Known = t.Variance.Add(d.Variance), t.Unknown || d.Unknown, t.Known || d.Known
		t.Due, t.Credited, t.GivenUp = t.Due.Add(d.Due), t.Credited.Add(d.Credited), t.GivenUp.Add(d.GivenUp)
		t.Loose, t.Tax = t.Loose.Add(d.Loose), t.Tax.Add(d.Tax)
		t.Fees, t.Charges, t.Disputed = t.Fees.Add(d.Fees), t.Charges.Add(d.Charges), t.Disputed.Add(d.Disputed)
	}
	return t
}

// Joined adds up the days of several machines, day by day.
func Joined(machines []*Machine) []*Day {
	days := map[string][]*Day{}
	for _, m := range machines {
		for _, d := range m.Days {
			days[d.Name()] = append(days[d.Name()], d)
		}
	}
	list := make([]*Day, 0, len(days))
	for _, name := range slices.Sorted(maps.Keys(days)) { // what is late stands behind: "for" is after digits
		d := Total(days[name])
		d.Date, d.Late = days[name][0].Date, days[name][0].Late
		for _, x := range days[name] {
			d.Periods = append(d.Periods, x.Periods...)
		}
		list = append(list, d)
	}
	return list
}
