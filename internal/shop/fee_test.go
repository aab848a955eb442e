package shop_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// By hand: 23 per cent inside 123 is 23; 50 cents with 23 per cent on top are 61.5 cents, of
// which 11.5 are tax, as in 615.00 there are 115.00. A third of a cent is rounded.
func TestFee(t *testing.T) {
	d := decimal.RequireFromString
	for name, x := range map[string]struct {
		fee               shop.Fee
		unit, income, tax string
	}{
		"inside":  {shop.Fee{Each: d("1.23"), VAT: d("23"), Inside: true}, "1.23", "123.00", "23"},
		"on top":  {shop.Fee{Each: d("0.50"), VAT: d("23")}, "0.615", "615.00", "115"},
		"no tax":  {shop.Fee{Each: d("0.50")}, "0.5", "20.00", "0"},
		"rounded": {shop.Fee{Each: d("1"), VAT: d("20"), Inside: true}, "1", "0.10", "0.02"},
		"back":    {shop.Fee{Each: d("1.2"), VAT: d("20"), Inside: true}, "1.2", "-12.00", "-2"},
		"none":    {shop.Fee{}, "0", "5", "0"},
	} {
		if got := x.fee.Unit(); !got.Equal(d(x.unit)) {
			t.Errorf("%s: %s for one payout", name, got)
		}
		if got := x.fee.TaxIn(d(x.income), 2); !got.Equal(d(x.tax)) {
			t.Errorf("%s: %s of tax in %s", name, got, x.income)
		}
	}
	a := shop.Fee{Each: d("0.5"), By: shop.FeeByBank}
	other := shop.Fee{Each: d("0.6"), By: "bank"}
	if b := a; !a.Equal(b) || a.Equal(shop.Fee{Each: d("0.5")}) || a.Equal(other) {
		t.Error("fees are compared wrongly")
	}
}

// A change holds from its own day on, also where the day sees several.
func TestFeeOn(t *testing.T) {
	d := decimal.RequireFromString
	s := shop.Settings{Fee: shop.Fee{Each: d("0.5")}}
	for _, each := range []string{"0.5", "0.6", "0.7"} { // the first is no change
		was := s.Fee
		s.Fee = shop.Fee{Each: d(each)}
		s.KeepFee(was, "2026-11-10")
	}
	was := s.Fee
	s.Fee = shop.Fee{}
	s.KeepFee(was, "2026-11-20")
	for day, want := range map[shop.Date]string{"2026-11-09": "0.5", "2026-11-10": "0.7", "2026-11-19": "0.7",
		"2026-11-20": "0", "2027-01-01": "0"} {
		if got := s.FeeOn(day).Each; !got.Equal(d(want)) {
			t.Errorf("%s: %s, want %s", day, got, want)
		}
	}
}
