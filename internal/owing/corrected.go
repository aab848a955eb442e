package owing

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/telling"
)

// Corrected says what becomes of what the bank owes by a correction that leads to other
// books: of a settlement, if it is about one, what was paid too much is told as that and never
// as a debt below nothing, and what is paid for nothing known from then on.
func Corrected(t *telling.Teller, after *books.Machine, of int64) (lines []string) {
	back := decimal.Zero // of what was given up
	for _, p := range dues.Overgiven(after.Claims) {
		back = back.Sub(p.Value)
	}
	if back.IsPositive() {
		lines = append(lines, t.V.Say("correct.given-up", "money", t.V.Money(back)))
	}
	over := func(m *books.Machine) decimal.Decimal {
		x := m.Claim(of)
		if x == nil || !x.Left().IsNegative() {
			return decimal.Zero
		}
		return decimal.Max(x.Left().Abs().Sub(x.GivenUp), decimal.Zero)
	}
	had, has := over(t.M), over(after)
	if b, a := t.M.ByBank().Add(had), after.ByBank().Add(has).Add(back); !b.Equal(a) {
		lines = append(lines, t.V.Say("correct.owed", "before", t.V.Money(b), "after", t.V.Money(a)))
	}
	switch loose := sumLoose(after).Sub(sumLoose(t.M)); {
	case has.IsPositive():
		lines = append(lines, t.V.Say("owed.over", "money", t.V.Money(has), "day",
			telling.ClaimDay(t, *after.Claim(of))))
	case loose.IsPositive():
		lines = append(lines, t.V.Say("correct.loose", "money", t.V.Money(loose)))
	}
	return lines
}

func sumLoose(m *books.Machine) (sum decimal.Decimal) {
	for _, l := range m.Loose {
		sum = sum.Add(l.Value)
	}
	return sum
}
