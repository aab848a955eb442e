package owing

import (
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Claims that are late since the same moment are due within a few days of one another.
const nearDue, fewBefore = 14, 12

// Since lists what is owed that is late since the same moment as a claim, oldest first.
func Since(t *telling.Teller, x books.Claim, from func(shop.Date) time.Time) []books.Claim {
	list := t.Claims(dues.Wanted{Is: dues.Still, Due: [2]shop.Date{x.On.Add(-nearDue), x.On.Add(nearDue)}})
	return slices.DeleteFunc(list, func(y books.Claim) bool { return !from(y.On).Equal(from(x.On)) })
}

// DueBefore finds, of the settlements before that of a claim, the one that was due last before
// it, paid or not.
func DueBefore(t *telling.Teller, x books.Claim) (before books.Claim, ok bool) {
	for _, y := range t.Claims(dues.Wanted{Before: x.Seq, Order: dues.Newest, Limit: fewBefore}) {
		if y.On != "" && y.On < x.On && y.On > before.On {
			before, ok = y, true
		}
	}
	return before, ok
}
