package ask_test

import (
	"fmt"
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
)

// talks gives a talk of staff1 at the example shop's machine.
func talks(t *testing.T, f *floor.Floor) *engine.Talk {
	t.Helper()
	return f.Engine.Talk(f.State("staff1"), chat.Input{At: f.Now}, f.Facts("staff1"))
}

// atPeriod gives a talk at a machine whose open period has such boxes.
func atPeriod(t *testing.T, boxes ...books.BoxState) *engine.Talk {
	t.Helper()
	f := floor.New(t, floor.Of())
	f.Machine.Periods, f.Machine.Open = []*books.Period{{No: 1, Boxes: boxes}}, 1
	return talks(t, f)
}

// A printed figure above what was put in is probably money. What was taken out
// again cannot have been paid out, unless more was taken out than put in.
func TestCheckPaid(t *testing.T) {
	boxes := []books.BoxState{
		{Position: 1, Face: "50", Loaded: 40}, {Position: 2, Face: "20", Loaded: 100, Added: 50, Removed: 30},
		{Position: 3, Face: "20", Loaded: 10, Removed: 10}, {Position: 4, Face: "10", Loaded: 5, Removed: 9},
		{Position: 5, Face: "5", Loaded: 10, Removed: 10},
	}
	for _, x := range []struct {
		face cashmath.Face
		n    int64
		want ask.Doubt
	}{
		{"5", 0, ask.Doubt{}}, {"5", 1, ask.Doubt{Why: "paid-more"}},
		{"50", 40, ask.Doubt{}}, {"50", 41, ask.Doubt{Why: "paid-more"}},
		{"20", 120, ask.Doubt{}}, // 100 + 50 - 30, and 10 - 10
		{"20", 121, ask.Doubt{Why: "paid-more"}},
		{"20", 2400, ask.Doubt{Why: "money-paid", Likely: 120}}, {"20", 2420, ask.Doubt{Why: "paid-more"}},
		{"20", 2410, ask.Doubt{Why: "paid-more"}}, // no whole number of notes
		{"10", 5, ask.Doubt{}}, {"10", 6, ask.Doubt{Why: "paid-more"}},
		{"10", 50, ask.Doubt{Why: "money-paid", Likely: 5}},
	} {
		c := atPeriod(t, boxes...)
		got := ask.CheckPaid(c, ask.Line{Face: x.face}, x.n)
		if fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d of %s: %+v, want %+v", x.n, x.face, got, x.want)
		}
	}
}

func loaded() []books.BoxState {
	return []books.BoxState{{Position: 1, Face: "50", Loaded: 40}, {Position: 2, Face: "20", Loaded: 150},
		{Position: 3, Face: "10", Loaded: 200}}
}

// The boxes that something is about are those that were loaded, while the period
// lasts; each holds what it is laid down to hold, or what was in it.
func TestBoxesAsLoaded(t *testing.T) {
	c := atPeriod(t, loaded()...)
	if got := ask.Boxes(c); !slices.Equal(got, c.Kit.Boxes) {
		t.Errorf("boxes %v", got)
	}
	c = atPeriod(t, loaded()[:2]...)
	c.Kit.Boxes[0].Capacity = 30 // below what was loaded
	got := ask.Boxes(c)
	if len(got) != 2 || got[0].Capacity != 40 || got[1].Capacity != 2000 || got[1].Face != "20" {
		t.Errorf("boxes %v", got)
	}
	changed := loaded()
	changed[1].Face, changed[2].Position = "100", 4
	c = atPeriod(t, changed...)
	if got := ask.Boxes(c); got[1].Face != "100" || got[1].Capacity != 2000 || got[2].Position != 4 ||
		got[2].Capacity != lines.UsualCapacity {
		t.Errorf("boxes %v", got)
	}
	if lines := ask.KindLines(c); len(lines) != 3 || lines[0].Face != "50" || lines[1].Face != "100" {
		t.Errorf("kinds %v", lines)
	}
	f := floor.New(t, floor.Of())
	if c := talks(t, f); len(ask.Boxes(c)) != 3 || ask.Target(c) != nil {
		t.Errorf("with nothing loaded %v", ask.Boxes(c))
	}
}
