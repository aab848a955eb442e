package lines_test

import (
	"fmt"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// What is usual is laid down, until three openings tell better: their median.
func TestLoads(t *testing.T) {
	boxes := []shop.Box{{Position: 1, Face: "20", Usual: 150}, {Position: 2, Face: "10", Usual: 200},
		{Position: 3, Face: "20", Usual: 80}}
	m := books.New(1)
	load := func(n int64) {
		m.Loads = append(m.Loads, []books.Figure{{Field: books.Loaded, Box: 1, Face: "20", Notes: n}})
	}
	load(90)
	load(100)
	if list := lines.Loads(boxes, m); list[0].Usual != 150 || list[1].Usual != 200 {
		t.Errorf("after two openings: %+v", list)
	}
	load(140)
	list := lines.Loads(boxes, m)
	if list[0].Usual != 100 || list[1].Usual != 200 {
		t.Errorf("after three: %+v", list)
	}
	for want, l := range map[int64]lines.Line{100: {Box: 1, Face: "20"}, 180: {Face: "20"}, 200: {Face: "10"},
		0: {Face: "50"}} {
		if got := lines.UsualOf(list, l); got != want {
			t.Errorf("%+v: %d, want %d", l, got, want)
		}
	}
}

// Sealed bundles are offered as they were last put in, else as whole bundles of a usual load;
// what was not whole, was undone or corrected, or was of other boxes is no pattern.
func TestSealed(t *testing.T) {
	list := []lines.Line{{Box: 1, Face: "50"}, {Box: 2, Face: "20"}, {Box: 3, Face: "10"}}
	loads := []lines.Line{{Box: 1, Face: "50", Usual: 40}, {Box: 2, Face: "20", Usual: 150},
		{Box: 3, Face: "10", Usual: 200}}
	hundred := func(cashmath.Face) int64 { return 100 }
	top := func(box int, face cashmath.Face, n int64) books.Brief {
		return books.Brief{Kind: books.TopUp,
			Figures: []books.Figure{{Field: books.Added, Box: box, Face: face, Notes: n}}}
	}
	undone, corrected, swap := top(2, "20", 300), top(2, "20", 300), top(2, "20", 300)
	undone.Void, corrected.Corrected, swap.Kind = true, 9, books.Swap
	for _, x := range []struct {
		bundle func(cashmath.Face) int64
		recent []books.Brief
		want   string
	}{
		{hundred, nil, "[0 100 200]"}, // 40 is no whole bundle, 150 is one, 200 are two
		{func(cashmath.Face) int64 { return 0 }, nil, "[]"},
		{func(cashmath.Face) int64 { return 500 }, nil, "[]"},
		{hundred, []books.Brief{top(2, "20", 300)}, "[0 300 0]"},
		{hundred, []books.Brief{top(2, "20", 300), top(3, "10", 100)}, "[0 0 100]"},
		{hundred, []books.Brief{top(3, "10", 100), top(2, "20", 50)}, "[0 0 100]"},
		{hundred, []books.Brief{top(2, "10", 100), undone, corrected, swap, {Kind: books.TopUp}}, "[0 100 200]"},
	} {
		if got := fmt.Sprint(lines.Sealed(list, loads, x.bundle, x.recent)); got != x.want {
			t.Errorf("%+v: %s, want %s", x.recent, got, x.want)
		}
	}
	if got := lines.Choice("sealed", []int64{0, 100, 200}); got != "sealed-0-100-200" {
		t.Errorf("the button says %q", got)
	}
}
