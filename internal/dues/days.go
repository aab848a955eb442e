package dues

import (
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// With lists the claims of which the same is said of the day they are due, oldest first.
func With(m *books.Machine, same func(shop.Date) bool) (list []books.Claim) {
	for _, x := range m.Due() {
		if x.On != "" && same(x.On) {
			list = append(list, x)
		}
	}
	return list
}

// Before finds the claim that was due last before another one, paid or not.
func Before(m *books.Machine, x books.Claim) (before books.Claim, ok bool) {
	for _, y := range m.Claims {
		if y.On != "" && y.On < x.On && y.On > before.On {
			before, ok = y, true
		}
	}
	return before, ok
}
