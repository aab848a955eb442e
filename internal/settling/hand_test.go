package settling_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
)

// A line is shared out until nothing is left of it: no more than is due for a day, nor than
// is left. By hand: 700 came, 400 are due for one day and 500 for another.
func TestShared(t *testing.T) {
	n := decimal.NewFromInt
	o := &settling.Offer{Amount: n(700)}
	a := settling.Part{As: matching.Pays, Machine: 1, Seq: 3, Value: n(400)}
	b := settling.Part{As: matching.Pays, Machine: 2, Seq: 3, Value: n(500)}
	var parts []settling.Part
	for _, x := range []struct {
		day               settling.Part
		value, most, rest int64
		ok                bool
	}{{a, 401, 400, 700, false}, {a, 0, 400, 700, false}, {a, -5, 400, 700, false}, {a, 350, 400, 350, true},
		{b, 351, 350, 350, false}, {b, 350, 350, 0, true}} {
		list, most, ok := o.Shared(parts, x.day, n(x.value))
		if ok != x.ok || !most.Equal(n(x.most)) || !o.Rest(list).Equal(n(x.rest)) {
			t.Errorf("%d: %t, at most %s, %s left", x.value, ok, most, o.Rest(list))
		}
		parts = list
	}
	if len(parts) != 2 || !parts[0].Value.Equal(n(350)) || parts[1].Machine != 2 {
		t.Errorf("%+v", parts)
	}
}
