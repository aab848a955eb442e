package dues

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Ages are the last days of the first three ages of a claim; the fourth is older
// (common practice, no source).
var Ages = [3]int{7, 30, 90}

// Then is what the bank owed for a settlement at the end of a day, and what has
// become of it since.
type Then struct {
	Claim         books.Claim
	Owed          decimal.Decimal
	Paid, GivenUp decimal.Decimal // since; paid is below nothing where the bank took back
	Changed       decimal.Decimal // put right since, where that month's figures stay
}

// Left is what it still owes of it.
func (t *Then) Left() decimal.Decimal { return t.Owed.Add(t.Changed).Sub(t.Paid).Sub(t.GivenUp) }

// And adds up what was owed for several.
func (t Then) And(o Then) Then {
	return Then{Owed: t.Owed.Add(o.Owed), Paid: t.Paid.Add(o.Paid), GivenUp: t.GivenUp.Add(o.GivenUp),
		Changed: t.Changed.Add(o.Changed)}
}

// At lists what the bank owed at the end of a day, oldest first, by what holds now: what it
// owes, and what it has paid since. claims are those that are live now and those that entries
// are about; entries are all that are told under a later day, and perhaps earlier ones, and
// dayOf gives the day that a record is told under.
func At(claims []books.Claim, entries []books.Entry, day shop.Date,
	dayOf func(books.Entry) shop.Date) []Then {
	paid, given := map[int64]decimal.Decimal{}, map[int64]decimal.Decimal{}
	later := map[int64]bool{}
	for _, e := range books.InForce(entries) {
		if dayOf(e) <= day {
			continue
		}
		later[e.Seq] = true
		for _, p := range e.Parts {
			switch p.As {
			case books.Pays:
				paid[p.Of] = paid[p.Of].Add(p.Value)
			case books.GivenUp:
				given[p.Of] = given[p.Of].Add(p.Value)
			}
		}
	}
	var list []Then
	for _, c := range claims {
		t := Then{Claim: c, Paid: paid[c.Seq], GivenUp: given[c.Seq]}
		t.Owed = c.Left().Add(t.Paid).Add(t.GivenUp)
		if !later[c.Seq] && !t.Owed.IsZero() {
			list = append(list, t)
		}
	}
	return slices.Clip(list)
}

// About are the settlements that payments among entries are for, or what is given up.
func About(entries []books.Entry) (of []int64) {
	for i := range entries {
		of = append(of, entries[i].Needs()...)
	}
	slices.Sort(of)
	return slices.Compact(of)
}

// Touched are the settlements that entries bring or are about: what was owed for any other is what
// is owed for it now.
func Touched(entries []books.Entry) []int64 {
	of := About(entries)
	for i := range entries {
		if entries[i].Kind == books.Settlement {
			of = append(of, entries[i].Seq)
		}
	}
	slices.Sort(of)
	return slices.Compact(of)
}

// Resting adds up what was owed at the end of a day for the settlements that no entry since
// touches. still is what is to come by now for days up to it, over are the claims of those days of which
// too much was paid, and touched those that entries do touch.
func Resting(still Owed, over, touched []books.Claim, day shop.Date) (sum Then, n int) {
	no := make(map[int64]bool, len(touched))
	for i := range touched {
		c := &touched[i]
		no[c.Seq] = true
		if left := c.Left(); c.Day <= day && left.IsPositive() {
			still.Sum, still.Count = still.Sum.Sub(left), still.Count-1
		}
	}
	for i := range over {
		if c := &over[i]; !no[c.Seq] {
			still.Sum, still.Count = still.Sum.Add(c.Left()), still.Count+1
		}
	}
	return Then{Owed: still.Sum}, still.Count
}
