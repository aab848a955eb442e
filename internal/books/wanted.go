package books

import (
	"slices"

	"shopfloat/internal/shop"
)

// Wanted says which of a machine's claims are asked for: those that are all of
// what is named.
type Wanted struct {
	Of       []int64   // of these settlements
	Open     bool      // something is still to come
	From, To shop.Date // of these days of trading; empty: of any
	After    int64     // of later settlements than this
	Newest   bool      // the newest first
	Limit    int       // so many at most; 0: all
}

// Fits reports whether a claim is one of those asked for.
func (w Wanted) Fits(c Claim) bool {
	return (w.Of == nil || slices.Contains(w.Of, c.Seq)) && (!w.Open || c.Left().IsPositive()) &&
		(w.From == "" || w.From <= c.Day) && (w.To == "" || c.Day <= w.To) && c.Seq > w.After
}

// Wanted picks the claims asked for among those at hand.
func (m *Machine) Wanted(w Wanted) []Claim {
	var list []Claim
	for _, c := range m.Claims {
		if w.Fits(c) {
			list = append(list, c)
		}
	}
	if w.Newest {
		slices.Reverse(list)
	}
	if w.Limit > 0 && len(list) > w.Limit {
		list = list[:w.Limit]
	}
	return list
}
