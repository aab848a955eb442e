// Package dues works out what the bank owes: what a payment may be for, how old
// claims are, what was owed on a day and what became of it.
package dues

import (
	"math/bits"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// Fitting says what a payment, or its difference from what is due, is exactly.
type Fitting string

// What fits, the strongest first.
const (
	FitsDue       Fitting = "due"        // what is due for the settlement
	FitsOther     Fitting = "other"      // what is due for another settlement
	FitsSeveral   Fitting = "several"    // what is due for several settlements together
	FitsLessOver  Fitting = "less-over"  // less what was paid too much for another settlement
	FitsTwice     Fitting = "twice"      // twice what is due
	FitsBackOff   Fitting = "back-off"   // less the day's cancelled payouts once more
	FitsBackIn    Fitting = "back-in"    // the day's cancelled payouts were not taken off
	FitsTestsOff  Fitting = "tests-off"  // less the day's test notes once more
	FitsTestsIn   Fitting = "tests-in"   // the day's test notes were not taken off
	FitsCharge    Fitting = "charge"     // less a charge that was taken off before
	FitsFee       Fitting = "fee"        // with fee income as it came before
	FitsExchanged Fitting = "transposed" // two digits of the amount exchanged
	FitsSlid      Fitting = "slid"       // a digit of the amount lost, doubled or added
)

// Fit is one thing that a payment is exactly.
type Fit struct {
	Why   Fitting
	Of    []int64         // the settlements it would pay, oldest first
	Value decimal.Decimal // the difference that is explained; 0 for none
}

// searchClaims bounds how many claims are tried together.
const searchClaims = 12

// FitsFor lists what a payment that is meant for a settlement fits exactly, the
// best first; a settlement of 0 is none in particular. None: nothing fits.
func FitsFor(m *books.Machine, settlement int64, amount decimal.Decimal, digits int) []Fit {
	c := m.Claim(settlement)
	if c != nil && c.Left().Equal(amount) {
		return []Fit{{Why: FitsDue, Of: []int64{c.Seq}}}
	}
	open := openOf(m)
	var fits []Fit
	for _, o := range open {
		if o.seq != settlement && o.left.Equal(amount) {
			fits = append(fits, Fit{Why: FitsOther, Of: []int64{o.seq}})
		}
	}
	if of := several(open, settlement, amount); of != nil {
		fits = append(fits, Fit{Why: FitsSeveral, Of: of})
	}
	fits = append(fits, lessOver(m, c, amount)...)
	if c != nil && c.Left().IsPositive() {
		fits = append(fits, differs(m, c, amount, digits)...)
	}
	return fits
}

// unpaid is what is left of a settlement: there may be years of them, so it is worked
// out once.
type unpaid struct {
	seq  int64
	left decimal.Decimal
}

// openOf lists them, oldest first.
func openOf(m *books.Machine) []unpaid {
	var list []unpaid
	for i := range m.Claims {
		if left := m.Claims[i].Left(); left.IsPositive() {
			list = append(list, unpaid{m.Claims[i].Seq, left})
		}
	}
	return list
}

// lessOver finds settlements of which too much came that was kept off this payment.
func lessOver(m *books.Machine, c *books.Claim, amount decimal.Decimal) (fits []Fit) {
	for _, x := range m.Claims {
		if c == nil || !x.Left().IsNegative() || x.Seq == c.Seq || !c.Left().Add(x.Left()).Equal(amount) {
			continue
		}
		of := []int64{x.Seq, c.Seq}
		slices.Sort(of)
		fits = append(fits, Fit{Why: FitsLessOver, Of: of, Value: x.Left()})
	}
	return fits
}

// Suits gives the settlements that a payment is taken for at first, oldest first:
// the only ones that are due for just this, or the one that is nearly so.
func Suits(m *books.Machine, amount decimal.Decimal, digits int) []int64 {
	switch fits := FitsFor(m, 0, amount, digits); len(fits) {
	case 0:
		if c := Near(m, amount); c != nil {
			return []int64{c.Seq}
		}
	case 1:
		return fits[0].Of
	}
	return nil
}

// nearShare is the part of a claim that a payment may lack or have too much and
// still be taken for its payment at first: a tenth (common practice, no source:
// charges and fees are a few in a hundred).
const nearShare = 10

// Near finds the claim at hand, not paid in full, that a payment is closest to
// where none fits it exactly: the oldest of those, or nil where none is near.
func Near(m *books.Machine, amount decimal.Decimal) *books.Claim {
	near, least := int64(0), decimal.Zero
	for _, o := range openOf(m) {
		gap := o.left.Sub(amount).Abs()
		if near != 0 && !gap.LessThan(least) || gap.Mul(decimal.NewFromInt(nearShare)).GreaterThan(o.left) {
			continue
		}
		near, least = o.seq, gap
	}
	return m.Claim(near)
}

// differs explains how a payment differs from what is due.
func differs(m *books.Machine, c *books.Claim, amount decimal.Decimal, digits int) []Fit {
	var fits []Fit
	diff := amount.Sub(c.Left())
	add := func(why Fitting, ok bool) {
		if ok {
			fits = append(fits, Fit{Why: why, Of: []int64{c.Seq}, Value: diff})
		}
	}
	off, in := diff.Neg(), diff
	add(FitsTwice, in.Equal(c.Left()))
	add(FitsBackOff, off.IsPositive() && off.Equal(c.Back))
	add(FitsBackIn, in.IsPositive() && in.Equal(c.Back))
	add(FitsTestsOff, off.IsPositive() && off.Equal(c.Tests))
	add(FitsTestsIn, in.IsPositive() && in.Equal(c.Tests))
	add(FitsCharge, had(m, books.Charge, diff))
	add(FitsFee, had(m, books.Fee, diff))
	typed, due := amount.Shift(int32(digits)).IntPart(), c.Left().Shift(int32(digits)).IntPart()
	add(FitsExchanged, cashmath.Transposition(typed, due) == 1)
	add(FitsSlid, cashmath.Slide(typed, due) != cashmath.NoSlide)
	return fits
}

// had reports whether a part of just this value came before.
func had(m *books.Machine, as books.Share, value decimal.Decimal) bool {
	return slices.ContainsFunc(m.Payments, func(p books.Payment) bool {
		return slices.ContainsFunc(p.Parts, func(x books.Part) bool { return x.As == as && x.Value.Equal(value) })
	})
}

// several finds two or more claims that add up to an amount: a run of days
// first, then any. One that is asked for is among them.
func several(due []unpaid, settlement int64, amount decimal.Decimal) []int64 {
	asked := func(of []int64) bool {
		return settlement == 0 || slices.Contains(of, settlement) ||
			!slices.ContainsFunc(due, func(o unpaid) bool { return o.seq == settlement })
	}
	for i := range due {
		sum := decimal.Zero
		for n, o := range due[i:] {
			if sum = sum.Add(o.left); sum.GreaterThan(amount) {
				break
			}
			if n == 0 || !sum.Equal(amount) {
				continue
			}
			if of := seqs(due[i : i+n+1]); asked(of) {
				return of
			}
		}
	}
	return anyOf(due[max(len(due)-searchClaims, 0):], amount, asked)
}

func seqs(list []unpaid) (of []int64) {
	for _, o := range list {
		of = append(of, o.seq)
	}
	return of
}

// anyOf finds any two or more that add up to an amount. The sum of a set is that of
// the set without its first, and of that one.
func anyOf(due []unpaid, amount decimal.Decimal, asked func([]int64) bool) []int64 {
	sums := make([]decimal.Decimal, 1<<len(due))
	for set := 1; set < len(sums); set++ {
		sums[set] = sums[set&(set-1)].Add(due[bits.TrailingZeros(uint(set))].left)
		if bits.OnesCount(uint(set)) < 2 || !sums[set].Equal(amount) {
			continue
		}
		var of []int64
		for i, o := range due {
			if set&(1<<i) != 0 {
				of = append(of, o.seq)
			}
		}
		if asked(of) {
			return of
		}
	}
	return nil
}
