package lines_test

import (
	"fmt"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/lines"
)

// twenties is a period whose box of twenties had so many put in, of which some were taken out.
func twenties(loaded, added, removed int64) *books.Period {
	b := books.BoxState{Position: 1, Face: "20", Loaded: loaded, Added: added, Removed: removed}
	b.Held = loaded + added - removed
	return &books.Period{Boxes: []books.BoxState{b}}
}

// A printed figure above what was put in is asked back; what was taken out counts only where it
// is no more than that.
func TestPaid(t *testing.T) {
	l := lines.Line{Face: "20"}
	for _, x := range []struct {
		p    *books.Period
		n    int64
		want lines.Doubt
	}{
		{twenties(100, 50, 30), 120, lines.Doubt{}},
		{twenties(100, 50, 30), 121, lines.Doubt{Why: "paid-more"}},
		{twenties(100, 50, 30), 2400, lines.Doubt{Why: "money-paid", Likely: 120}},
		{twenties(10, 0, 10), 1, lines.Doubt{Why: "paid-more"}},
		{twenties(10, 0, 30), 10, lines.Doubt{}}, // more taken out than put in says nothing
		{twenties(10, 0, 30), 11, lines.Doubt{Why: "paid-more"}},
		{&books.Period{}, 1, lines.Doubt{Why: "paid-more"}},
	} {
		if got := lines.Paid(x.p, l, x.n); fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d paid of %+v: %+v, want %+v", x.n, x.p.Boxes, got, x.want)
		}
	}
	for n, want := range map[int64]string{5: "", 6: "back-more", 100: "money-back"} {
		if got := lines.Back(l, n, 5); got.Why != want {
			t.Errorf("%d of 5 taken back: %+v, want %q", n, got, want)
		}
	}
}

// A move between till, safe and bank is asked back from one above the most on, as money where
// that would be right.
func TestOutside(t *testing.T) {
	l := lines.Line{Face: "20"}
	for _, x := range []struct {
		n, most int64
		above   bool
		want    lines.Doubt
	}{
		{50, 50, false, lines.Doubt{}}, {51, 50, false, lines.Doubt{Why: "far-move"}},
		{60, 50, false, lines.Doubt{Why: "money-usual", Likely: 3}},
		{999, 0, false, lines.Doubt{}}, {1000, 0, false, lines.Doubt{Why: "money-usual", Likely: 50}},
		{1001, 0, false, lines.Doubt{}}, {30, 50, true, lines.Doubt{Why: "far-move"}},
		{40, 50, true, lines.Doubt{Why: "money-usual", Likely: 2}},
	} {
		if got := lines.Outside(l, x.n, x.most, x.above); fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d, at most %d, above the limit %t: %+v, want %+v", x.n, x.most, x.above, got, x.want)
		}
	}
}

// Counts become notes by kind and figures of a record: what is not answered is no note, and a
// nought stands only where it says something.
func TestFigures(t *testing.T) {
	list := []lines.Line{{Box: 1, Face: "50"}, {Box: 2, Face: "20"}, {Box: 3, Face: "20"}, {Face: "10"}}
	v := []int64{40, 0, 7, -1}
	if n := lines.NotesOf(list, v); n["50"] != 40 || n["20"] != 7 || n["10"] != 0 || lines.Sum(v) != 47 {
		t.Errorf("notes %v, together %d", n, lines.Sum(v))
	}
	for zeros, want := range map[bool]int{false: 2, true: 3} {
		if figs := lines.Figures(books.Loaded, list, v, zeros); len(figs) != want || figs[0].Box != 1 {
			t.Errorf("with noughts %t: %+v", zeros, figs)
		}
	}
	figs := lines.FiguresOf(books.FoundAt, books.Notes{"10": 2, "50": 1})
	if len(figs) != 2 || figs[0].Face != "50" {
		t.Errorf("by kind: %+v", figs)
	}
}
