package lines_test

import (
	"testing"

	"shopfloat/internal/books"
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
