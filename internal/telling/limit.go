package telling

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/lines"
)

// nearPercent is the share from which capacity and limit are mentioned.
const nearPercent = 90

// OverLimit says that a total is above the most cash allowed inside; empty where it is not.
func OverLimit(t *Teller, total decimal.Decimal) string {
	if !Over(t, total) {
		return ""
	}
	limit := t.F.Shop.Limit
	return t.V.Say("over-limit", "limit", t.V.Money(limit), "over", t.V.Money(total.Sub(limit)))
}

// Over reports whether a total is above the most cash allowed inside.
func Over(t *Teller, total decimal.Decimal) bool {
	return t.F.Shop.Limit.IsPositive() && total.GreaterThan(t.F.Shop.Limit)
}

// NearLimits tells the share of capacity and of the limit, only when near.
func NearLimits(t *Teller, list []lines.Line, v []int64, total decimal.Decimal) (out []string) {
	for i, l := range list {
		if percent := v[i] * 100 / l.Capacity; percent >= nearPercent {
			out = append(out, t.V.Say("near-capacity", "line", LineName(t, l), "percent", percent,
				"capacity", t.V.Number(l.Capacity)))
		}
	}
	if limit := t.F.Shop.Limit; limit.IsPositive() && !Over(t, total) {
		percent, _ := total.Shift(2).QuoRem(limit, 0)
		if percent.IntPart() >= nearPercent {
			out = append(out, t.V.Say("near-limit", "percent", percent.IntPart(), "limit", t.V.Money(limit)))
		}
	}
	return out
}
