package settling

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/matching"
)

// ByHand is the way in which a person shared a line out.
const ByHand matching.Why = "hand"

// Rest is what of a line is in no part yet.
func (o *Offer) Rest(parts []Part) decimal.Decimal {
	rest := o.Amount
	for _, p := range parts {
		rest = rest.Sub(p.Value)
	}
	return rest
}

// Shared takes a part of a line for a day: nothing more than is due there, nor than is
// left of the line. most is what would fit where it does not.
func (o *Offer) Shared(parts []Part, day Part, value decimal.Decimal) (
	list []Part, most decimal.Decimal, ok bool) {
	most = decimal.Min(o.Rest(parts), day.Value)
	if !value.IsPositive() || value.GreaterThan(most) {
		return parts, most, false
	}
	day.Value = value
	return append(parts[:len(parts):len(parts)], day), most, true
}
