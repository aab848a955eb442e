package shop

import "github.com/shopspring/decimal"

// Who pays the shop's fee for a payout.
const (
	FeeByBank      = "bank"
	FeeByCustomers = "customers"
)

// Fee is the shop's own income for each payout. It is told apart from the money of payouts,
// and the tax in it apart from both; what of it is due to whom is nobody's advice here.
type Fee struct {
	Each   decimal.Decimal `json:"each"`             // nothing: there is none
	By     string          `json:"by,omitempty"`     // who pays it
	VAT    decimal.Decimal `json:"vat,omitzero"`     // rate, per cent
	Inside bool            `json:"inside,omitempty"` // the tax is in the amount; else it comes on top
}

var hundred = decimal.NewFromInt(100)

// Unit is what comes in for one payout, with its tax.
func (f Fee) Unit() decimal.Decimal {
	if f.Inside {
		return f.Each
	}
	return f.Each.Mul(hundred.Add(f.VAT)).Div(hundred)
}

// TaxIn is the tax in fee income as it came, to so many digits.
func (f Fee) TaxIn(income decimal.Decimal, digits int32) decimal.Decimal {
	if !f.VAT.IsPositive() {
		return decimal.Zero
	}
	return income.Mul(f.VAT).DivRound(hundred.Add(f.VAT), digits)
}

// IsZero reports whether there is no fee.
func (f Fee) IsZero() bool { return f.Each.IsZero() }

// Equal reports whether two fees are the same.
func (f Fee) Equal(o Fee) bool {
	return f.Each.Equal(o.Each) && f.By == o.By && f.VAT.Equal(o.VAT) && f.Inside == o.Inside
}

// FeeUntil is a fee that held before a day.
type FeeUntil struct {
	Fee
	Until Date `json:"until"`
}

// FeeOn is the fee that held on a day: a change holds from its own day on, so that figures
// of before stay.
func (s *Settings) FeeOn(day Date) Fee {
	for _, f := range s.FeesBefore {
		if day < f.Until {
			return f.Fee
		}
	}
	return s.Fee
}

// KeepFee remembers the fee that held until today, where it is another one now.
func (s *Settings) KeepFee(was Fee, today Date) {
	if !was.Equal(s.Fee) {
		s.FeesBefore = append(s.FeesBefore[:len(s.FeesBefore):len(s.FeesBefore)], FeeUntil{was, today})
	}
}
