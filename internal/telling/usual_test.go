package telling_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/telling"
)

// A top-up that was left standing is shown again after the machine was emptied: no period is open.
func TestOverWithNothingOpen(t *testing.T) {
	f := opened(t, closing("12 60 80", "none", "28 90 120", "none"))
	tl := talk(f, "staff1").Teller
	tl.F.Shop.Limit = decimal.NewFromInt(1000)
	if got := telling.OverWith(tl, nil, decimal.NewFromInt(1000)); got != "" {
		t.Errorf("at the limit: %q", got)
	}
	expect(t, telling.OverWith(tl, nil, decimal.NewFromInt(1001)), "€1 above|€1,000", "")
}
