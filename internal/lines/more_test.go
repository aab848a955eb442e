package lines_test

import (
	"fmt"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// More notes left than were ever put in is a slip: as money where that fits, a nought
// too many, or no more than can be said.
func TestLeft(t *testing.T) {
	l := lines.Line{Box: 1, Face: "20", Capacity: 2000}
	for _, x := range []struct {
		n    int64
		want lines.Doubt
	}{
		{150, lines.Doubt{}}, {0, lines.Doubt{}},
		{151, lines.Doubt{Why: "left-more"}},
		{1500, lines.Doubt{Why: "money-left", Likely: 75}},              // 1,500 of money are 75 twenties
		{1490, lines.Doubt{Why: "left-more", Likely: 149}},              // no whole number of twenties
		{3000, lines.Doubt{Why: "money-left", Likely: 150, Hard: true}}, // more than the box holds, too
		{15_015, lines.Doubt{Why: "capacity", Hard: true}},
	} {
		if got := lines.Left(twenties(150, 0, 0), l, x.n); fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d left of 150: %+v, want %+v", x.n, got, x.want)
		}
	}
	l.Box = 9 // a box that the period does not have
	if got := lines.Left(twenties(150, 0, 0), l, 1999); got.Why != "" {
		t.Errorf("a box that is not there: %+v", got)
	}
}

// A top-up is asked back for what the box holds with what is in it, or as money.
func TestAdded(t *testing.T) {
	l := lines.Line{Box: 1, Face: "20", Capacity: 2000}
	for _, x := range []struct {
		n, usual int64
		want     lines.Doubt
	}{
		{100, 0, lines.Doubt{}}, {1850, 1850, lines.Doubt{}},
		{1851, 0, lines.Doubt{Why: "over-full"}},
		{1000, 0, lines.Doubt{Why: "money-usual", Likely: 50}}, {1001, 0, lines.Doubt{}},
		{400, 20, lines.Doubt{Why: "money-usual", Likely: 20}}, {400, 150, lines.Doubt{}},
		{4000, 0, lines.Doubt{Why: "money", Likely: 200, Hard: true}},
	} {
		if got := lines.Added(twenties(150, 0, 0), l, x.n, x.usual); fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d added to 150, usually %d: %+v, want %+v", x.n, x.usual, got, x.want)
		}
	}
	if got := lines.Out(twenties(150, 0, 0), l, 150); got.Why != "" {
		t.Errorf("all of it is taken out: %+v", got)
	}
	for n, want := range map[int64]string{151: "not-there", 2000: "money-out"} {
		if got := lines.Out(twenties(150, 0, 0), l, n); got.Why != want {
			t.Errorf("%d taken out of 150: %+v, want %s", n, got, want)
		}
	}
	for n, want := range map[int64]string{50: "", 51: "refused-many", 60: "money-refused",
		1020: "refused-many"} {
		if got := lines.Refused(lines.Line{Face: "20"}, n); got.Why != want {
			t.Errorf("%d refused: %+v, want %q", n, got, want)
		}
	}
}

// Above the most cash allowed inside a count is probably an amount of money; without a
// limit nothing is.
func TestAbove(t *testing.T) {
	l := lines.Line{Box: 1, Face: "20", Capacity: 2000}
	limit := decimal.NewFromInt(10_000)
	for _, x := range []struct {
		n     int64
		typed int64
		limit decimal.Decimal
		want  lines.Doubt
	}{
		{600, 12_000, limit, lines.Doubt{Why: "money-limit", Likely: 30}},
		{500, 10_000, limit, lines.Doubt{}}, {600, 12_000, decimal.Zero, lines.Doubt{}},
		{601, 12_020, limit, lines.Doubt{}}, // no whole number of twenties
		{3000, 60_000, limit, lines.Doubt{Why: "money", Likely: 150, Hard: true}},
	} {
		got := lines.Above(l, x.n, decimal.NewFromInt(x.typed), x.limit)
		if fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%d, worth %d: %+v, want %+v", x.n, x.typed, got, x.want)
		}
	}
}

// What is asked for are the boxes of the shop, or those that were loaded where the
// settings changed since: a box is then as large as what went in at least.
func TestBoxes(t *testing.T) {
	now := []shop.Box{{Position: 1, Face: "50", Capacity: 2000, Low: 10}, {Position: 2, Face: "20",
		Capacity: 100}}
	list := lines.Of(now)
	if len(list) != 2 || list[0] != (lines.Line{Box: 1, Of: 2, Face: "50", Capacity: 2000, Low: 10}) {
		t.Errorf("%+v", list)
	}
	if got := lines.Kinds([]cashmath.Face{"20", "10"}); len(got) != 2 || got[1].Face != "10" ||
		got[1].Box != 0 {
		t.Errorf("%+v", got)
	}
	same := &books.Period{Boxes: []books.BoxState{{Position: 1, Face: "50"}, {Position: 2, Face: "20"}}}
	for name, p := range map[string]*books.Period{"nothing loaded": nil, "as loaded": same} {
		if got := lines.Boxes(p, now); fmt.Sprint(got) != fmt.Sprint(now) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	was := &books.Period{Boxes: []books.BoxState{{Position: 2, Face: "10", Loaded: 150}, {Position: 3,
		Face: "5"}}}
	want := []shop.Box{{Position: 2, Face: "10", Capacity: 150}, {Position: 3, Face: "5",
		Capacity: lines.UsualCapacity}}
	if got := lines.Boxes(was, now); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("loaded otherwise: %+v", got)
	}
}

// A test payout takes a note from each box that holds any; what was found is added up
// wherever it was put.
func TestTrialAndFound(t *testing.T) {
	p := &books.Period{No: 4, Boxes: []books.BoxState{{Position: 1, Face: "50", Loaded: 40, Remaining: 12},
		{Position: 2, Face: "20", Remaining: 3}, {Position: 3, Face: "10", Loaded: 1}}}
	r := lines.TrialOf(p, books.Trial{Where: books.Tray})
	if r.Kind != books.Test || r.Period != 4 || r.Where != books.Tray || len(r.Marks) != 0 ||
		len(r.Figures) != 2 ||
		r.Figures[0] != (books.Figure{Field: books.Tried, Box: 1, Face: "50", Notes: 1}) ||
		r.Figures[1].Box != 3 {
		t.Errorf("%+v", r)
	}
	if r := lines.TrialOf(p, books.Trial{Counted: true}); len(r.Marks) != 1 || r.Marks[0] != books.Counted {
		t.Errorf("marks of a counted one: %+v", r.Marks)
	}
	p.Findings = []books.Finding{{Notes: books.Notes{"20": 2}}, {Notes: books.Notes{"20": 1, "50": 1}}}
	if got := lines.Found(p); got["20"] != 3 || got["50"] != 1 || len(got) != 2 {
		t.Errorf("found %v", got)
	}
	if got := lines.Remaining(p); fmt.Sprint(got) != "[12 3 0]" {
		t.Errorf("left %v", got)
	}
}
