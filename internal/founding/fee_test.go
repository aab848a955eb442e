package founding_test

import (
	"strings"
	"testing"

	"shopfloat/internal/founding"
	"shopfloat/internal/shop"
)

// A fee is typed in everyday words and read back; where two things could be meant it is
// asked.
func TestFee(t *testing.T) {
	tell := teller(t)
	tell.F.Shop = &shop.Shop{Settings: shop.Settings{Currency: "EUR"}}
	for typed, want := range map[string]string{
		"0.50 from the bank, VAT 23% on top":              "€0.50 a payout, the bank pays it, 23 % VAT on top",
		"50 cents, customers pay, no VAT":                 "€0.50 a payout, customers pay it",
		"50 cent, customers pay, 20 percent vat included": "€0.50 a payout, customers pay it, 20 % VAT inside",
		"€1,20":              "€1.20 a payout, the bank pays it",
		"23% inside, 1.23":   "€1.23 a payout, the bank pays it, 23 % VAT inside",
		"0,35 plus 21 % vat": "€0.35 a payout, the bank pays it, 21 % VAT on top",
		"0.50 per payout, vat 20 per cent on top": "€0.50 a payout, the bank pays it, 20 % VAT on top",
		"none": "", "no fee": "",
		"0.50, 23% vat":                        "?inside the amount, or on top",
		"0.50 vat 23% inside, or is it on top": "?inside the amount, or on top",
		"0.50 or 0.60":                         "?could not read", "lots": "?could not read", "": "?could not read",
		"0": "?could not read", "5000": "?could not read",
		"0.50 vat 230% inside": "?could not read", "23%": "?could not read",
	} {
		fee, problem := founding.Fee(tell, typed)
		question, asks := strings.CutPrefix(want, "?")
		if asks != (problem != "") || asks && !strings.Contains(problem, question) {
			t.Errorf("%q: %q, want %q", typed, problem, want)
		} else if got := founding.FeeInWords(tell, fee); !asks && got != want {
			t.Errorf("%q is read back as %q, want %q", typed, got, want)
		}
	}
}
