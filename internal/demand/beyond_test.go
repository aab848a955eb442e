package demand

import (
	"math"
	"testing"
)

// The half normal's mean is sqrt(2/pi); further out the ratio tends to x + 1/x from below.
func TestMeanBeyond(t *testing.T) {
	if got, want := meanBeyond(0), math.Sqrt(2/math.Pi); math.Abs(got-want) > 1e-12 {
		t.Errorf("beyond 0: %v, want %v", got, want)
	}
	last := 0.0
	for x := -8.0; x < 60; x += 0.25 {
		got := meanBeyond(x)
		if !(got >= x && got > last) || x > 1 && got > x+1/x {
			t.Errorf("beyond %v: %v after %v", x, got, last)
		}
		last = got
	}
}
