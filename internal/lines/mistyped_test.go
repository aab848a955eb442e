package lines_test

import (
	"fmt"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/lines"
)

func threeBoxes() []books.BoxState {
	return []books.BoxState{{Position: 1, Face: "50", Loaded: 40}, {Position: 2, Face: "20", Loaded: 150},
		{Position: 3, Face: "10", Loaded: 200}}
}

// One slip in one line that explains a printed total, as long as few lines could
// have it.
func TestMistyped(t *testing.T) {
	for _, x := range []struct {
		diff int64
		want map[int]int64 // by box, what was typed
	}{
		{7200, map[int]int64{2: 510}}, // 360 twenties more: 150 transposed, as 510
		{-2000, nil},                  // nothing in the top or the bottom box, or 50 in the middle one: too many
		{-3000, map[int]int64{2: 0}}, {0, nil}, {5, nil}, {-7000, nil},
		{27000, map[int]int64{2: 1500}}, // a nought too many
		{-2700, map[int]int64{2: 15}},
		{98000, map[int]int64{1: 2000}}, // the money of the box
		{-1800, map[int]int64{1: 4, 3: 20}},
	} {
		p := &books.Period{Boxes: threeBoxes()}
		got := map[int]int64{}
		for _, s := range lines.Mistyped(p, decimal.NewFromInt(x.diff)) {
			got[s.Box.Position] = s.Typed
		}
		if len(got) != len(x.want) || fmt.Sprint(got) != fmt.Sprint(x.want) && len(got) > 0 {
			t.Errorf("%d: %v, want %v", x.diff, got, x.want)
		}
	}
	alike := append(threeBoxes()[:1:1], books.BoxState{Position: 2, Face: "50", Loaded: 40},
		books.BoxState{Position: 3, Face: "50", Loaded: 40})
	p := &books.Period{Boxes: alike}
	if got := lines.Mistyped(p, decimal.NewFromInt(-2000)); got != nil {
		t.Errorf("three lines that could have it: %v", got)
	}
	if got := lines.Mistyped(&books.Period{Boxes: alike[:2]}, decimal.NewFromInt(-2000)); len(got) != 2 {
		t.Errorf("two lines that could have it: %v", got)
	}
}
