// Package stand says where the money of a machine is, and what makes it differ
// from what was put in.
package stand

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Stand says where the money of a machine is: what is there, and what was put
// in. The two differ by the gaps and by nothing else.
type Stand struct {
	Inside decimal.Decimal // by the ledger: payouts of an open period are not known before it is settled
	Cash   decimal.Decimal // in the shop's own cash: brought back out of the machine
	Till   decimal.Decimal // borrowed for change, not back yet
	ByBank decimal.Decimal // due and not paid yet

	Taken   decimal.Decimal // put in out of the shop's own cash
	Brought decimal.Decimal // fetched from the bank for it, less what was brought there
	Came    decimal.Decimal // paid by the bank to the shop's account

	Gaps []Gap // those that are not nothing
	Open bool  // a period is open
}

// Reach names what makes the money that is there differ from what was put in.
type Reach string

// The gaps.
const (
	ByCount   Reach = "count"    // differences found at closes, over less short
	NoFigures Reach = "figures"  // counted, and what was paid out is not known yet
	ByAmount  Reach = "amount"   // differences of days that told amounts only
	ByFees    Reach = "fees"     // the shop's own income
	ByCharge  Reach = "charge"   // taken off by the bank
	ByDispute Reach = "dispute"  // taken for customers' claims
	ByGivenUp Reach = "given-up" // due and given up
	ByLoose   Reach = "loose"    // paid for nothing that is known
)

// Gap is one of them in money; below nothing when it makes money missing.
type Gap struct {
	Why   Reach
	Value decimal.Decimal
}

// Sum is what is there.
func (s Stand) Sum() decimal.Decimal { return decimal.Sum(s.Inside, s.Cash, s.Till, s.ByBank) }

// PutIn is what was put in and not paid back to the shop's account yet.
func (s Stand) PutIn() decimal.Decimal { return s.Taken.Add(s.Brought).Sub(s.Came) }

// Missing is what is there less what was put in, less all that is named: always
// nothing when the ledger holds together.
func (s Stand) Missing() decimal.Decimal {
	rest := s.Sum().Sub(s.PutIn())
	for _, g := range s.Gaps {
		rest = rest.Sub(g.Value)
	}
	return rest
}

// At works out where the money is from all of a machine's entries, by what
// happened before an end; the zero time is now.
func At(id shop.MachineID, entries []books.Entry, end time.Time) (Stand, error) {
	if end.IsZero() {
		return Of(id, entries, nil)
	}
	return Of(id, entries, func(e books.Entry) bool { return e.Happened.Before(end) })
}

// Of works out where the money is by the entries that count; nil: all.
func Of(id shop.MachineID, entries []books.Entry, counts func(books.Entry) bool) (Stand, error) {
	return On(books.New(id), entries, counts)
}

// On is Of from books on that were folded over entries which all count.
func On(then *books.Machine, since []books.Entry, counts func(books.Entry) bool) (Stand, error) {
	m, err := books.ThoseOn(then, since, counts)
	if err != nil {
		return Stand{}, err
	}
	return Now(m), nil
}

// Now says where the money is by books that are at hand.
func Now(m *books.Machine) Stand {
	s := Stand{Till: m.Balance[books.Till].Value(), ByBank: m.ByBank(),
		Cash:  m.Balance[books.Cash].Value().Add(m.Taken),
		Taken: m.Taken, Brought: m.Balance[books.Bank].Value().Neg(), Came: m.Money.Came, Open: m.Open != 0}
	for p, n := range m.Balance {
		if p.Inside() {
			s.Inside = s.Inside.Add(n.Value())
		}
	}
	left, slips := LeftOpen(m)
	s.Inside = s.Inside.Add(left).Sub(slips)
	s.gaps(m, left, slips)
	return s
}

// Add gives where the money of two machines is.
func (s Stand) Add(o Stand) Stand {
	for _, f := range []struct{ to, from *decimal.Decimal }{{&s.Inside, &o.Inside}, {&s.Cash, &o.Cash},
		{&s.Till, &o.Till}, {&s.ByBank, &o.ByBank}, {&s.Taken, &o.Taken}, {&s.Brought, &o.Brought},
		{&s.Came, &o.Came}} {
		*f.to = f.to.Add(*f.from)
	}
	s.Gaps, s.Open = slices.Clone(s.Gaps), s.Open || o.Open
	for _, g := range o.Gaps {
		if i := slices.IndexFunc(s.Gaps, func(x Gap) bool { return x.Why == g.Why }); i >= 0 {
			s.Gaps[i].Value = s.Gaps[i].Value.Add(g.Value)
		} else {
			s.Gaps = append(s.Gaps, g)
		}
	}
	return s
}

// LeftOpen is what left the boxes of periods that are not counted yet, as a
// sum below nothing: what slips say was paid out, and what was found elsewhere
// inside. The ledger takes it from the boxes only at the count, so that it would
// be told in two places. slips is what those of them say that tell amounts only.
func LeftOpen(m *books.Machine) (left, slips decimal.Decimal) {
	for _, p := range m.Periods {
		if p.Status != books.Open {
			continue
		}
		for _, s := range p.Slips {
			if len(s.Amounts) > 0 {
				slips = slips.Add(s.Due)
				continue
			}
			left = left.Sub(s.PaidOut.Value()).Add(s.Back.Value()).Add(s.Tests.Value())
		}
		for _, f := range p.Findings {
			left = left.Sub(f.Notes.Value())
		}
	}
	return left, slips
}

func (s *Stand) gaps(m *books.Machine, left, slips decimal.Decimal) {
	loose := decimal.Zero
	for _, l := range m.Loose {
		loose = loose.Add(l.Value)
	}
	for _, g := range []Gap{
		{ByCount, m.Balance[books.OverShort].Value().Neg()},
		{NoFigures, m.Balance[books.Gone].Value().Sub(left).Neg()},
		{ByAmount, m.Money.Claimed.Sub(slips).Sub(m.Balance[books.Customers].Value())},
		{ByFees, m.Money.Fees},
		{ByCharge, m.Money.Charges.Neg()},
		{ByDispute, m.Money.Disputed.Neg()},
		{ByGivenUp, m.Money.GivenUp.Neg()},
		{ByLoose, loose},
	} {
		if !g.Value.IsZero() {
			s.Gaps = append(s.Gaps, g)
		}
	}
}
