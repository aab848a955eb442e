package cashmath_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// Whole units are worked with as such, and only where nothing is lost by it: a
// value of ten figures is none of a note, and what is not whole is a decimal.
func TestWhole(t *testing.T) {
	for face, want := range map[cashmath.Face]int64{
		"1": 1, "20": 20, "999": 999, "1000000": 1_000_000, "909090909": 909_090_909,
		"0.5": 0, "20.5": 0, "1234567890": 0, "2/": 0, "2:": 0, "": 0,
	} {
		if got := cashmath.Whole(face); got != want {
			t.Errorf("%q is %d, want %d", face, got, want)
		}
	}
	for notes, want := range map[int64]bool{
		0: true, 1: true, -1: true, cashmath.MaxNotes: true, -cashmath.MaxNotes: true,
		cashmath.MaxNotes + 1: false, -cashmath.MaxNotes - 1: false,
	} {
		if got := cashmath.Small(notes); got != want {
			t.Errorf("%d notes are few: %v", notes, got)
		}
	}
}

// More notes than fit are worked out as decimals: nothing runs over.
func TestValueOfMore(t *testing.T) {
	const many = 30_000_000_000
	want := decimal.RequireFromString("15000000000000000000") // beyond an int64
	if got := cashmath.Value("500000000", many); !got.Equal(want) {
		t.Errorf("got %s, want %s", got, want)
	}
}
