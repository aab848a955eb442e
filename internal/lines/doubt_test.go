package lines_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
)

// A box may be full to the last note. What does not fit is probably money, or a
// nought too many.
func TestCheckFits(t *testing.T) {
	for _, x := range []struct {
		capacity, n int64
		want        lines.Doubt
	}{
		{2000, 2000, lines.Doubt{}}, {0, 99999, lines.Doubt{}},
		{2000, 2001, lines.Doubt{Why: "capacity", Hard: true}},
		{2000, 3000, lines.Doubt{Why: "money", Likely: 150, Hard: true}},
		{2000, 40000, lines.Doubt{Why: "money", Likely: 2000, Hard: true}},
		{2000, 15050, lines.Doubt{Why: "capacity", Likely: 1505, Hard: true}},
		{100, 12010, lines.Doubt{Why: "capacity", Hard: true}},
		{1000, 90010, lines.Doubt{Why: "capacity", Likely: 900, Hard: true}},
		{1, 10, lines.Doubt{Why: "capacity", Likely: 1, Hard: true}},
		{100, 115, lines.Doubt{Why: "capacity", Hard: true}}, // no nought at its end
	} {
		got := lines.Fits(lines.Line{Face: "20", Capacity: x.capacity}, x.n)
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
		want     lines.Doubt
	}{
		{150, 2001, lines.Doubt{Why: "capacity", Likely: 150, Hard: true}},
		{0, 2001, lines.Doubt{Why: "capacity", Hard: true}},
		{150, 3000, lines.Doubt{Why: "money", Likely: 150, Hard: true}},
		{0, 1999, lines.Doubt{}}, {150, 450, lines.Doubt{}}, {150, 50, lines.Doubt{}},
		{150, 451, lines.Doubt{Why: "far", Likely: 150}}, {150, 49, lines.Doubt{Why: "far", Likely: 150}},
		{40, 2000, lines.Doubt{Why: "money-usual", Likely: 100}}, {40, 800,
			lines.Doubt{Why: "money-usual", Likely: 40}},
		{150, 0, lines.Doubt{Why: "none", Likely: 150}}, {20, 0, lines.Doubt{}}, // a handful less
		{100, 3000, lines.Doubt{Why: "money", Likely: 150, Hard: true}},
		{20, 101, lines.Doubt{Why: "far", Likely: 10}}, {150, 600, lines.Doubt{Why: "far", Likely: 150}},
		{150, 750, lines.Doubt{Why: "far", Likely: 75}},
		{150, 15, lines.Doubt{Why: "far", Likely: 150}}, {150, 1510, lines.Doubt{Why: "far", Likely: 151}},
		{150, 7, lines.Doubt{Why: "far", Likely: 150}}, {150, 8, lines.Doubt{Why: "far", Likely: 80}},
		{150, 30, lines.Doubt{Why: "far", Likely: 300}}, {150, 31, lines.Doubt{Why: "far", Likely: 150}},
	} {
		got := lines.Load(lines.Line{Face: "20", Capacity: 2000, Usual: x.usual}, x.n)
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
		if got := lines.Far(x[0], x[1]); got != want {
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
		notes, ok := lines.AsMoney(lines.Line{Face: x.face}, x.n)
		if ok != x.ok || ok && notes != x.notes {
			t.Errorf("%+v: %d %t", x, notes, ok)
		}
	}
}

// Counts that are all round hundreds are money, probably; one of them, or with others, they may be bundles.
func TestRoundMoney(t *testing.T) {
	list := []lines.Line{{Face: "50"}, {Face: "20"}, {Face: "10"}}
	for want, v := range map[string][]int64{
		"0 12": {600, 1200, 800}, "1 60": {0, 1200, 800},
		"0 0": {600, 1200, 80}, "0 0 ": {0, 0, 800}, "0 0  ": {12, 60, 80}, "0 0   ": {600, 1200, -1},
	} {
		at, notes := lines.RoundMoney(list, v)
		if got := fmt.Sprint(at, " ", notes); got != strings.TrimSpace(want) {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
	if _, notes := lines.RoundMoney([]lines.Line{{Face: "1"}, {Face: "1"}}, []int64{100, 200}); notes != 0 {
		t.Error("notes of one are their own sum")
	}
}

// A box that is asked back as empty is said to be so once more by a none for that box alone, and
// by nothing while something else is doubted.
func TestEmptyAgain(t *testing.T) {
	req := counts.Request{Next: 1, Currency: "EUR",
		Lines: []counts.Line{{Face: "50"}, {Face: "20"}, {Face: "10"}}}
	for said, want := range map[string]bool{"0": true, "none": true, "20s none": true, "it is empty": true,
		"7": false, "10s none": false, "0 0": false, "none 7": false, "maybe empty": false, "": false} {
		if got := lines.EmptyAgain(lines.Nothing(0), said, req); got != want {
			t.Errorf("%q: %t", said, got)
		}
		if lines.EmptyAgain(lines.Doubt{Why: "far"}, said, req) || lines.EmptyAgain(lines.Doubt{}, said, req) {
			t.Errorf("%q is said of a box that is not asked back as empty", said)
		}
	}
}

// A text that begins with a no and has no figure denies what was asked back.
func TestDenied(t *testing.T) {
	noes := []string{"no", "nope"}
	for said, want := range map[string]bool{
		"no": true, "no its notes": true, "nope, not that": true, "no.": true,
		"no, 240": false, "240": false, "not so": false, "none": false, "": false, "yes no": false,
	} {
		if got := lines.Denied(said, noes); got != want {
			t.Errorf("%q: %v", said, got)
		}
	}
}
