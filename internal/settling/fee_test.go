package settling_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
)

// The fee that a shop has laid down is looked for in a line, with its tax: 7 payouts at 50
// cents with 23 per cent on top are 4.305, which is 4.31. Where shops of one account say
// different things nothing is looked for.
func TestFeeOfTheShop(t *testing.T) {
	fee := shop.Fee{Each: decimal.RequireFromString("0.5"), VAT: decimal.NewFromInt(23)}
	machines := []settling.Machine{owed(t, 1, 400)}
	row := "2026-11-03;Settlement;404.31"
	if r := read(t, settling.Want{}, machines, row); r.Offers[0].Ways[0].Why != matching.More {
		t.Errorf("without a fee it is %+v", r.Offers[0].Ways[0])
	}
	machines[0].Shop.Fee = fee
	r := read(t, settling.Want{}, machines, row)
	way := r.Offers[0].Ways[0]
	if way.Why != matching.WithFee || len(way.Parts) != 2 || way.Parts[1].As != matching.Fee ||
		way.Parts[1].Value.String() != "4.31" {
		t.Errorf("with one it is %+v", way)
	}
	machines = append(machines, owed(t, 2, 300))
	if f := settling.Facts(machines); !f.Fee.IsZero() {
		t.Errorf("two shops: %s", f.Fee)
	}
	machines[1].Shop.Fee = fee
	if f := settling.Facts(machines); f.Fee.String() != "0.615" {
		t.Errorf("two shops that say the same: %s", f.Fee)
	}
}
