package cashmath_test

import (
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

// What notes can make is checked against adding up one note after the other.
func TestMakes(t *testing.T) {
	sets := [][]int64{{5000, 2000, 1000}, {5000, 2000}, {2000, 500}, {50, 20}, {20, 15, 6}, {1000}, {}}
	checks.Rapid(t, 200, 5_000, 500_000, func(t *rapid.T) {
		faces := rapid.SampledFrom(sets).Draw(t, "faces")
		amount := rapid.Int64Range(0, 400).Draw(t, "amount")
		if len(faces) > 0 && faces[0] >= 1000 {
			amount *= 100
		}
		if got, want := cashmath.Makes(amount, faces), canMake(amount, faces); got != want {
			t.Fatalf("%d from %v: %v, want %v", amount, faces, got, want)
		}
	})
	// of no land: kinds that do not divide one another's double, as those of money nearly always do
	for _, faces := range [][]int64{{7, 5}, {9, 7, 4}, {11, 3}} {
		for amount := range int64(80) {
			if got, want := cashmath.Makes(amount, faces), canMake(amount, faces); got != want {
				t.Errorf("%d from %v: %v, want %v", amount, faces, got, want)
			}
		}
	}
	if cashmath.Makes(-1000, []int64{1000}) {
		t.Error("notes make less than nothing")
	}
}

// canMake adds up one note after the other.
func canMake(amount int64, faces []int64) bool {
	can := make([]bool, amount+1)
	can[0] = true
	for n := range can {
		for _, f := range faces {
			can[n] = can[n] || int64(n) >= f && can[int64(n)-f]
		}
	}
	return can[amount]
}
