package ask_test

import (
	"fmt"
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// An amount that the machine's notes cannot make is said to be none, to the cent.
func TestPayable(t *testing.T) {
	f := floor.New(t, floor.Of())
	for amount, want := range map[string]bool{"4420": true, "10": true, "0": true, "5": false, "4425": false,
		"10.50": false, "10.001": false} {
		c := talks(t, f)
		if got := ask.Payable(c, amount); got != want || (len(c.Lead) == 0) != want {
			t.Errorf("%s: %t, said %v", amount, got, c.Lead)
		}
	}
}

// Money is read in the shop's currency.
func TestAmount(t *testing.T) {
	f := floor.New(t, floor.Of())
	for typed, want := range map[string]string{"1,240.50": "1240.5", "€12": "12", "x": "", "1.234": "1234",
		"-5": ""} {
		got, ok := ask.Amount(talks(t, f), typed)
		if ok != (want != "") || ok && got.String() != want {
			t.Errorf("%q is %s, %t", typed, got, ok)
		}
	}
	for currency, want := range map[string]int{"EUR": 2, "JPY": 0, "KWD": 3, "???": 2} {
		f.Shop.Currency = currency
		if got := talks(t, f).Digits(); got != want {
			t.Errorf("%s has %d digits", currency, got)
		}
	}
}

// Counts become figures of their boxes; noughts only where they are asked for,
// and what is not answered never.
func TestBoxFigures(t *testing.T) {
	list := []ask.Line{{Box: 1, Face: "50"}, {Box: 2, Face: "20"}, {Face: "10"}}
	for zeros, want := range map[bool]string{true: "[{1 50 40} {2 20 0}]", false: "[{1 50 40}]"} {
		var got []struct {
			Box   int
			Face  string
			Notes int64
		}
		for _, f := range lines.Figures(books.Loaded, list, []int64{40, 0, -1}, zeros) {
			if f.Field != books.Loaded {
				t.Errorf("a figure of %s", f.Field)
			}
			got = append(got, struct {
				Box   int
				Face  string
				Notes int64
			}{f.Box, string(f.Face), f.Notes})
		}
		if fmt.Sprint(got) != want {
			t.Errorf("noughts %t: %v, want %s", zeros, got, want)
		}
	}
	sum := books.NotesIn([]books.Figure{{Field: books.Loaded, Face: "20", Notes: 3},
		{Field: books.Shown, Face: "20", Notes: 5},
		{Field: books.Added, Face: "20", Notes: 4}, {Field: books.Added, Face: "50", Notes: 1}}, books.Loaded,
		books.Added)
	if len(sum) != 2 || sum["20"] != 7 || sum["50"] != 1 {
		t.Errorf("added up to %v", sum)
	}
	if got := lines.Sum([]int64{3, -1, 4}); got != 7 {
		t.Errorf("the sum is %d", got)
	}
}

// Notes are named highest first, one and several.
func TestNotes(t *testing.T) {
	c := talks(t, floor.New(t, floor.Of()))
	if got := c.Notes(books.Notes{"10": 1, "50": 2}); got != "2 x 50s, 1 x 10s" {
		t.Errorf("named %q", got)
	}
	for want, tray := range map[string]books.Notes{"Box for refused notes: empty": nil,
		"Box for refused notes: 1 x 20s": {"20": 1}} {
		if got := telling.TrayLine(c.Teller, tray, false); got != want {
			t.Errorf("%v: %q", tray, got)
		}
	}
}

// Counts stand under each other by box or by kind, with their money and, where
// there are several, the total; what is not answered is left out.
func TestCountTable(t *testing.T) {
	c := talks(t, floor.New(t, floor.Of()))
	boxes := ask.BoxLines(c)
	for _, x := range []struct {
		lines []ask.Line
		v     []int64
		want  string
		total string
	}{
		{boxes, []int64{40, 150, 0},
			"top     50s   40 notes  €2,000\nmiddle  20s  150 notes  €3,000\nbottom  10s    0 notes      €0\n" +
				"                        €5,000", "5000"},
		{boxes, []int64{-1, 1, -1}, "middle  20s  1 note  €20", "20"},
		{ask.KindLines(c), []int64{2, -1, 1}, "50s  2 notes  €100\n10s   1 note   €10\n              €110", "110"},
		{nil, nil, "", "0"},
	} {
		b, total := telling.CountTable(c.Teller, x.lines, x.v)
		if b.Text != x.want || !b.Fixed || total.String() != x.total {
			t.Errorf("%v: %s\n%s\nwant\n%s", x.v, total, b.Text, x.want)
		}
	}
}

// A box is called by where it sits, in full and in short, and is found by that.
func TestBoxNames(t *testing.T) {
	faces := []string{"50", "20", "10", "5"}
	for n, want := range map[int]string{
		1: "note box:box", 2: "top box:top bottom box:bottom", 3: "top box:top middle box:middle bottom box:bottom",
		4: "top box:top box 2:box 2 box 3:box 3 bottom box:bottom",
	} {
		f := floor.New(t, floor.Of())
		var boxes []shop.Box
		for i := range n {
			boxes = append(boxes, shop.Box{Position: i + 1, Face: cashmath.Face(faces[i]), Capacity: 100})
		}
		f.Shop.Machines[0].Boxes = boxes
		c := talks(t, f)
		lines := ask.BoxLines(c)
		got := ""
		for i, l := range lines {
			table, _ := telling.CountTable(c.Teller, lines[i:i+1], []int64{1})
			short := table.Text[:len(table.Text)-len(fmt.Sprintf("  %ss  1 note  €%s", faces[i], faces[i]))]
			long := telling.LineName(c.Teller, l)
			long = long[len(faces[i])+3 : len(long)-1] // 50s (top box)
			if got += " " + long + ":" + short; n == 3 && ask.BoxNamed(c, long) != i {
				t.Errorf("%q is box %d", long, ask.BoxNamed(c, long))
			}
		}
		if got[1:] != want {
			t.Errorf("%d boxes: %s", n, got)
		}
	}
	c := talks(t, floor.New(t, floor.Of()))
	for said, want := range map[string]int{"20s": 1, "top": 0, "7s": -1, "": -1,
		"two of them": -1, "30s 20s": -1, "top middle": -1} {
		if got := ask.BoxNamed(c, said); got != want {
			t.Errorf("%q is box %d", said, got)
		}
	}
	c.Kit = nil
	if ask.BoxNamed(c, "top") != -1 {
		t.Error("a box of no machine is found")
	}
}

// What a question tells the engine of its answers: each line in words, and all
// of them as they could be typed again.
func TestAnswersSoFar(t *testing.T) {
	two := func(f *floor.Floor) {
		f.Shop.Machines[0].Boxes = []shop.Box{{Position: 1, Face: "20"}, {Position: 2, Face: "20"},
			{Position: 3, Face: "10"}}
	}
	for _, x := range []struct {
		q     ask.Question
		shop  func(*floor.Floor)
		v     []int64
		so    []string
		none  bool
		again string
	}{
		{ask.Question{}, nil, []int64{40, -1, 1200}, []string{"50s 40", "10s 1,200"}, false, "50x40, 10x1200"},
		{ask.Question{}, nil, []int64{40, 0, -1}, []string{"50s 40", "20s 0"}, false, "50x40, 20x0"},
		{ask.Question{Partial: true}, nil, []int64{0, 5, 0}, []string{"50s 0", "20s 5", "10s 0"}, false, "20x5"},
		{ask.Question{None: true}, nil, []int64{0, 0, 0}, []string{"50s 0", "20s 0", "10s 0"}, true, "0"},
		{ask.Question{Partial: true}, nil, []int64{0, 0, 0}, []string{"50s 0", "20s 0", "10s 0"}, true, ""},
		{ask.Question{}, two, []int64{3, 4, 5}, []string{"20s 3", "20s 4", "10s 5"}, false,
			"top box: 3, middle box: 4, 10x5"},
		{ask.Question{}, nil, nil, nil, true, ""},
	} {
		x.q.Name, x.q.Lines = "left", ask.BoxLines
		f := floor.New(t, floor.Of())
		if x.shop != nil {
			x.shop(f)
		}
		c := talks(t, f)
		if x.v != nil {
			copy(x.q.Values(c), x.v)
		}
		if got := x.q.Answered(c); !slices.Equal(got, x.so) || x.q.Noughts(c) != x.none || x.q.Called() != "left" {
			t.Errorf("%v: %q, none %t", x.v, got, x.q.Noughts(c))
		}
		if got := x.q.Retype(c); got != x.again {
			t.Errorf("%v again: %q, want %q", x.v, got, x.again)
		}
		if loses := engine.LosesCounts(c); loses != (x.v != nil) {
			t.Errorf("%v: loses %t", x.v, loses)
		}
	}
}

// Of figures that are known together only their total is told, and typed again.
func TestTotalSoFar(t *testing.T) {
	q := ask.Question{Name: "paid", Lines: ask.BoxLines, LeftOut: "total", Total: func(*engine.Talk, string) {}}
	c := talks(t, floor.New(t, floor.Of()))
	copy(q.Values(c), []int64{0, 0, 0})
	c.State.Draft.Choices = map[string]string{"total": "4400.50"}
	if got := q.Answered(c); !slices.Equal(got, []string{"€4,400.50"}) || q.Retype(c) != "total 4400.50" ||
		q.Noughts(c) {
		t.Errorf("%q, again %q, none %t", got, q.Retype(c), q.Noughts(c))
	}
}

// The answers stand in a record when the question says so.
func TestKept(t *testing.T) {
	c := talks(t, floor.New(t, floor.Of()))
	q := ask.Question{Name: "left", Lines: ask.BoxLines}
	if q.Kept(c) {
		t.Error("kept although nobody says so")
	}
	for _, yes := range []bool{true, false} {
		q.Stands = func(*engine.Talk) bool { return yes }
		if q.Kept(c) != yes {
			t.Errorf("kept %t", !yes)
		}
	}
	c.Put("left", []int64{1, -1, 2, 3}) // of a machine that had four boxes
	if got := q.Answered(c); !slices.Equal(got, []string{"50s 1", "10s 2"}) || q.Retype(c) != "" {
		t.Errorf("answered %q, again %q", got, q.Retype(c))
	}
	q.LeftOut = "no-left"
	if len(q.Answered(c)) == 0 {
		t.Error("passed over although nobody did")
	}
	c.State.Draft.Choices = map[string]string{"no-left": "yes"} // as state format 1 keeps it
	if got := q.Answered(c); len(got) != 0 {
		t.Errorf("passed over and answered %q", got)
	}
	if q.Values(c); engine.LosesCounts(c) {
		t.Error("something is lost before anything was typed")
	}
}
