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

// A box may be full to the last note. What does not fit is probably money, or a
// nought too many.
func TestCheckFits(t *testing.T) {
	for _, x := range []struct {
		capacity, n int64
		want        ask.Doubt
	}{
		{2000, 2000, ask.Doubt{}}, {2000, 2001, ask.Doubt{Why: "capacity", Hard: true}}, {0, 99999, ask.Doubt{}},
		{2000, 3000, ask.Doubt{Why: "money", Likely: 150, Hard: true}},
		{2000, 40000, ask.Doubt{Why: "money", Likely: 2000, Hard: true}},
		{2000, 15050, ask.Doubt{Why: "capacity", Likely: 1505, Hard: true}},
		{100, 12010, ask.Doubt{Why: "capacity", Hard: true}},
		{1000, 90010, ask.Doubt{Why: "capacity", Likely: 900, Hard: true}},
		{1, 10, ask.Doubt{Why: "capacity", Likely: 1, Hard: true}},
		{100, 115, ask.Doubt{Why: "capacity", Hard: true}}, // no nought at its end
	} {
		got := ask.CheckFits(nil, ask.Line{Face: "20", Capacity: x.capacity}, x.n)
		if fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d of %d: %+v, want %+v", x.n, x.capacity, got, x.want)
		}
	}
}

// A load is asked back that does not fit or is far from the usual one: as money,
// as none, as a nought too many or too few, or for its own sake.
func TestCheckLoad(t *testing.T) {
	for _, x := range []struct {
		usual, n int64
		want     ask.Doubt
	}{
		{150, 2001, ask.Doubt{Why: "capacity", Likely: 150, Hard: true}},
		{0, 2001, ask.Doubt{Why: "capacity", Hard: true}},
		{150, 3000, ask.Doubt{Why: "money", Likely: 150, Hard: true}},
		{0, 1999, ask.Doubt{}}, {150, 450, ask.Doubt{}}, {150, 50, ask.Doubt{}},
		{150, 451, ask.Doubt{Why: "far", Likely: 150}}, {150, 49, ask.Doubt{Why: "far", Likely: 150}},
		{40, 2000, ask.Doubt{Why: "money-usual", Likely: 100}}, {40, 800,
			ask.Doubt{Why: "money-usual", Likely: 40}},
		{150, 0, ask.Doubt{Why: "none", Likely: 150}}, {20, 0, ask.Doubt{}}, // a handful less
		{100, 3000, ask.Doubt{Why: "money", Likely: 150, Hard: true}},
		{20, 101, ask.Doubt{Why: "far", Likely: 10}}, {150, 600, ask.Doubt{Why: "far", Likely: 150}},
		{150, 750, ask.Doubt{Why: "far", Likely: 75}},
		{150, 15, ask.Doubt{Why: "far", Likely: 150}}, {150, 1510, ask.Doubt{Why: "far", Likely: 151}},
		{150, 7, ask.Doubt{Why: "far", Likely: 150}}, {150, 8, ask.Doubt{Why: "far", Likely: 80}},
		{150, 30, ask.Doubt{Why: "far", Likely: 300}}, {150, 31, ask.Doubt{Why: "far", Likely: 150}},
	} {
		got := ask.CheckLoad(nil, ask.Line{Face: "20", Capacity: 2000, Usual: x.usual}, x.n)
		if fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d, usually %d: %+v, want %+v", x.n, x.usual, got, x.want)
		}
	}
}

// Far is outside a third to three times the usual count, and by more than twenty.
func TestFar(t *testing.T) {
	for x, want := range map[[2]int64]bool{{50, 150}: false, {49, 150}: true, {450, 150}: false,
		{451, 150}: true,
		{25, 5}:    false, {26, 5}: true, {10, 31}: true, {10, 30}: false, {1, 21}: false, {1, 22}: true} {
		if got := ask.Far(x[0], x[1]); got != want {
			t.Errorf("%d, usually %d: far %t", x[0], x[1], got)
		}
	}
}

// What a person typed as money for notes: a whole number of notes, but not the
// number itself.
func TestAsMoney(t *testing.T) {
	for _, x := range []struct {
		face  cashmath.Face
		n     int64
		notes int64
		ok    bool
	}{{"20", 3000, 150, true}, {"20", 3010, 0, false}, {"20", 0, 0, false}, {"1", 5, 5, false}} {
		notes, ok := ask.AsMoney(ask.Line{Face: x.face}, x.n)
		if ok != x.ok || ok && notes != x.notes {
			t.Errorf("%+v: %d %t", x, notes, ok)
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
		got[2].Capacity != ask.UsualCapacity {
		t.Errorf("boxes %v", got)
	}
	if lines := ask.KindLines(c); len(lines) != 3 || lines[0].Face != "100" || lines[2].Face != "10" {
		t.Errorf("kinds %v", lines)
	}
	f := floor.New(t, floor.Of())
	if c := talks(t, f); len(ask.Boxes(c)) != 3 || ask.Target(c) != nil {
		t.Errorf("with nothing loaded %v", ask.Boxes(c))
	}
}
