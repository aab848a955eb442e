package lines

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// A kind of which nothing was counted is asked for in all of its boxes; one that was is not.
func TestForgotten(t *testing.T) {
	p := &books.Period{Boxes: []books.BoxState{
		{Position: 1, Face: "50", Remaining: 12}, {Position: 2, Face: "20"},
		{Position: 3, Face: "10", Remaining: 80}, {Position: 4, Face: "20"}, {Position: 5, Face: "10"},
	}}
	for face, want := range map[cashmath.Face][]int64{
		"50": nil, "20": {12, -1, 80, -1, 0}, "10": nil, "5": nil,
	} {
		if got := Forgotten(p, face); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", face, got, want)
		}
	}
	for face, want := range map[cashmath.Face]bool{"50": true, "20": false, "10": false, "5": false} {
		if got := InOneBox(p, face); got != want {
			t.Errorf("%s in one box: %t", face, got)
		}
	}
}

// Counts undoes NotesOf.
func TestCounts(t *testing.T) {
	list := Kinds([]cashmath.Face{"50", "20", "10"})
	v := []int64{0, 3, 5}
	if got := Counts(list, NotesOf(list, v)); !slices.Equal(got, v) {
		t.Errorf("%v came back as %v", v, got)
	}
}
