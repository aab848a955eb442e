package demand_test

import (
	"testing"

	"shopfloat/internal/demand"
)

// After a day far above the usual the next day's load is wider upwards, and its middle is not: days far
// above come together, as the windows of VALIDATION.md have it. Three quiet days later it is forgotten.
func TestDaysFarAboveComeTogether(t *testing.T) {
	usual := cornerShop(140)
	usual.noise = 0.3
	above := func(back int) float64 {
		h := usual.history()
		h.Days[len(h.Days)-back].Notes *= 2.5
		f := mustAhead(t, mustFit(t, h, demand.Options{Priors: demand.Shipped()}), 1)
		return mustQuantile(t, f, 0.95) / f.Mean
	}
	h := usual.history()
	f := mustAhead(t, mustFit(t, h, demand.Options{Priors: demand.Shipped()}), 1)
	plain := mustQuantile(t, f, 0.95) / f.Mean
	if got := above(1); got < 1.05*plain {
		t.Errorf("the load is %.3f of the middle after a day far above, and %.3f without one", got, plain)
	}
	if once, later := above(1), above(4); later > 1.04*plain || later >= once {
		t.Errorf("%.3f of the middle three days later, %.3f at once, %.3f without", later, once, plain)
	}
}
