package cashmath

import (
	"github.com/shopspring/decimal"
)

// Currency is a currency of ISO 4217 with its minor digits. The zero value is none.
type Currency struct {
	code   string
	digits int32
}

// LookupCurrency finds a currency by its three capital letters, or ErrCurrency.
func LookupCurrency(code string) (Currency, error) {
	digits, known := minorDigits(code)
	if !known {
		return Currency{}, ErrCurrency
	}
	return Currency{code: code, digits: digits}, nil
}

// Code returns the three capital letters.
func (c Currency) Code() string { return c.code }

// Digits returns how many digits stand after the decimal mark: 2 for EUR, 0 for JPY.
func (c Currency) Digits() int32 { return c.digits }

// Amount writes d with exactly the currency's digits: "-20.00". An amount finer
// than the currency (Holds says so) is rounded half away from zero.
func (c Currency) Amount(d decimal.Decimal) string { return d.StringFixed(c.digits) }

// Holds reports whether d is a whole number of the currency's smallest unit.
func (c Currency) Holds(d decimal.Decimal) bool { return d.Shift(c.digits).IsInteger() }

// AmountOf is an amount of money that was read before; what is none is nothing.
func AmountOf(s string) decimal.Decimal {
	d, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Zero
	}
	return d
}
