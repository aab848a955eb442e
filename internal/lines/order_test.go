package lines_test

import (
	"slices"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/lines"
)

// A slip lists kinds of note as the boxes stand, or by value.
func TestInOrder(t *testing.T) {
	boxes := []cashmath.Face{"10", "50", "20"}
	for order, want := range map[string][]cashmath.Face{"": boxes, lines.HighFirst: {"50", "20", "10"},
		lines.LowFirst: {"10", "20", "50"}} {
		if got := lines.InOrder(boxes, order); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", order, got, want)
		}
	}
}

// Counts are put in another order only where that is the one that fits.
func TestReordered(t *testing.T) {
	right := []int64{28, 90, 120}
	fits := func(v []int64) bool { return slices.Equal(v, right) }
	for _, typed := range [][]int64{{120, 90, 28}, {90, 28, 120}, {28, 120, 90}, {120, 28, 90}, {90, 120, 28}} {
		was := slices.Clone(typed)
		if got := lines.Reordered(typed, fits); !slices.Equal(got, right) || !slices.Equal(typed, was) {
			t.Errorf("%v: %v", was, got)
		}
	}
	for _, typed := range [][]int64{{28, 90, 120}, {28, 90, 121}, {90, 120}, {}} {
		if got := lines.Reordered(typed, fits); got != nil {
			t.Errorf("%v: %v", typed, got)
		}
	}
}
