package telling

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
)

// Claims brings to hand what the bank owes or owed, as far as it is asked for and may be seen
// now, and gives it. What is asked for is bounded by whoever asks: years of it may be open.
func (t *Teller) Claims(w dues.Wanted) []books.Claim {
	if t.F.Ask.Claims == nil {
		return w.Among(t.M.Claims)
	}
	list := slices.DeleteFunc(t.F.Ask.Claims(w), t.covered)
	if t.M = t.M.With(list); w.Skip > 0 {
		return list
	}
	return w.Among(t.M.Claims) // what this step changed is told as it is now
}

// covered reports whether a claim is of what is being counted.
func (t *Teller) covered(c books.Claim) bool { return slices.Contains(t.unseen, c.Period) }

// OwingOf brings to hand what the bank owes or owed for some settlements.
func (t *Teller) OwingOf(of []int64) {
	if len(t.M.ClaimsOf(of)) < len(of) {
		t.Claims(dues.Wanted{Of: of})
	}
}

// Payable brings to hand what a payment of a sum may be for.
func (t *Teller) Payable(sum decimal.Decimal) {
	if !sum.IsPositive() || sum.Equal(t.sought) {
		return
	}
	t.sought = sum
	for _, w := range dues.Candidates(sum) {
		t.Claims(w)
	}
}

// Owed is what is still to come for days since one, of what may be seen; empty: for all days.
func (t *Teller) Owed(since shop.Date) dues.Owed {
	if t.F.Ask.Owed == nil {
		return dues.OwedOf((&dues.Wanted{From: since}).Among(t.M.Claims))
	}
	return t.seen(t.F.Ask.Owed(since), dues.Wanted{From: since})
}

// DueBefore is what is still to come that was due before a day, of what may be seen.
func (t *Teller) DueBefore(before shop.Date) dues.Owed {
	w := dues.Wanted{Due: [2]shop.Date{"0", before.Add(-1)}}
	if t.F.Ask.Due == nil {
		return dues.OwedOf(w.Among(t.M.Claims))
	}
	return t.seen(t.F.Ask.Due(before), w)
}

// seen takes from what claims add up to those of them that are of what is being counted.
func (t *Teller) seen(o dues.Owed, w dues.Wanted) dues.Owed {
	if len(t.unseen) > 0 {
		w.Is, w.After = dues.Still, slices.Min(t.unseen)
		left := dues.OwedOf(slices.DeleteFunc(t.F.Ask.Claims(w), func(c books.Claim) bool { return !t.covered(c) }))
		o.Sum, o.Count = o.Sum.Sub(left.Sum), o.Count-left.Count
	}
	return o
}
