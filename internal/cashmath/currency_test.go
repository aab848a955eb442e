package cashmath_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

// Minor digits of every code in ISO 4217 List One, edition of 2024-06-25.
func TestLookupCurrencyAgainstISO4217(t *testing.T) {
	rows := readTable(t, "iso4217_minor_units.csv")
	if len(rows) != 166 {
		t.Fatalf("the copy of the list has %d codes, want 166", len(rows))
	}
	for _, row := range rows {
		currency, err := cashmath.LookupCurrency(row["code"])
		if err != nil {
			t.Errorf("%s: %v", row["code"], err)
			continue
		}
		if got, want := int64(currency.Digits()), number(t, row["iso_minor_units"]); got != want {
			t.Errorf("%s has %d minor digits, want %d", row["code"], got, want)
		}
		if currency.Code() != row["code"] {
			t.Errorf("%s calls itself %s", row["code"], currency.Code())
		}
	}
}

// XCG replaced ANG on 31 March 2025, after that edition; 2 digits by the same list's
// later amendment as noted in the file.
func TestLookupCurrencyAfterTheEdition(t *testing.T) {
	if currency, err := cashmath.LookupCurrency("XCG"); err != nil || currency.Digits() != 2 {
		t.Errorf("XCG: %v, %v", currency, err)
	}
}

func TestLookupCurrencyErrCurrency(t *testing.T) {
	for _, code := range []string{"", "eur", "EURO", "XXX", "XAU", "XTS", "ZZZ", "€"} {
		if got, err := cashmath.LookupCurrency(code); !errors.Is(err, cashmath.ErrCurrency) || got.Code() != "" {
			t.Errorf("LookupCurrency(%q) = %v, %v; want ErrCurrency", code, got, err)
		}
	}
}

func TestCurrencyAmounts(t *testing.T) {
	cases := []struct {
		code, in, text string
		holds          bool
	}{
		{"EUR", "-20", "-20.00", true},
		{"EUR", "0", "0.00", true},
		{"EUR", "0.5", "0.50", true},
		{"EUR", "0.005", "0.01", false},
		{"EUR", "2960.00", "2960.00", true},
		{"JPY", "3000", "3000", true},
		{"JPY", "0.5", "1", false},
		{"KWD", "0.25", "0.250", true},
		{"CLF", "1.0001", "1.0001", true},
		{"EUR", "92233720368547758.08", "92233720368547758.08", true},
	}
	for _, c := range cases {
		currency, err := cashmath.LookupCurrency(c.code)
		if err != nil {
			t.Fatal(err)
		}
		in := amount(t, c.in)
		if got := currency.Amount(in); got != c.text {
			t.Errorf("%s %s is written %s, want %s", c.code, c.in, got, c.text)
		}
		if got := currency.Holds(in); got != c.holds {
			t.Errorf("%s holds %s: %v, want %v", c.code, c.in, got, c.holds)
		}
	}
}

// Any number of smallest units is held, and written so that it reads back.
func TestAmountsReadBack(t *testing.T) {
	checks.Rapid(t, 1000, 50_000, 5_000_000, func(t *rapid.T) {
		code := rapid.SampledFrom([]string{"EUR", "JPY", "KWD", "CLF"}).Draw(t, "code")
		currency, err := cashmath.LookupCurrency(code)
		if err != nil {
			t.Fatal(err)
		}
		value := decimal.New(rapid.Int64().Draw(t, "units"), -currency.Digits())
		if !currency.Holds(value) || currency.Holds(value.Add(decimal.New(1, -currency.Digits()-1))) {
			t.Fatalf("%s holds %s: %v", code, value, currency.Holds(value))
		}
		if written, err := decimal.NewFromString(currency.Amount(value)); err != nil || !written.Equal(value) {
			t.Fatalf("%s is written %s, %v", value, written, err)
		}
	})
}

func TestAmountOf(t *testing.T) {
	for in, want := range map[string]string{"12.50": "12.5", "x": "0", "": "0"} {
		if got := cashmath.AmountOf(in); got.String() != want {
			t.Errorf("%q is %s", in, got)
		}
	}
}
