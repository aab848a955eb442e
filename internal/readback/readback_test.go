package readback_test

import (
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// opened is what the owner of the example shop is told by: 40 x 50, 150 x 20, 200 x 10 went in.
func opened(t *testing.T) (*telling.Teller, []lines.Line, *books.Period) {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	c := f.Talk("owner")
	p := c.M.Periods[0]
	return c.Teller, lines.Of(lines.Boxes(p, c.Kit.Boxes)), p
}

// shown is what stands on a card: its lines, and the labels and choices of its buttons.
func shown(body []chat.Block, buttons [][]chat.Button) string {
	said := []string{floor.Said(body...)}
	for _, row := range buttons {
		for _, b := range row {
			said = append(said, "["+b.Label+"] "+b.Data)
		}
	}
	return strings.Join(said, "\n")
}

// A place is named by its shop, by the machine too where it has several; before it is set up it
// has no name. What its button says is read as the very place.
func TestSite(t *testing.T) {
	tell, _, _ := opened(t)
	named := func(id shop.ID, name string, machines ...shop.Machine) *shop.Shop {
		return &shop.Shop{ID: id, Settings: shop.Settings{Name: name, Machines: machines}}
	}
	one := named(3, "Corner", shop.Machine{ID: 5, Name: "Front"})
	two := named(4, "Hall", shop.Machine{ID: 6, Name: "Door"}, shop.Machine{ID: 7, Name: "Back"})
	for _, s := range []struct {
		site      chat.Site
		name, ref string
	}{
		{chat.Site{Shop: &shop.Shop{ID: 9}}, "New shop, not set up", "s-9.0"},
		{chat.Site{Shop: one, Machine: &books.Machine{ID: 5}}, "Corner", "s-3.5"},
		{chat.Site{Shop: two, Machine: &books.Machine{ID: 7}}, "Hall, Back", "s-4.7"},
		{chat.Site{Shop: two}, "Hall", "s-4.0"},
	} {
		if name, ref := readback.SiteName(tell, s.site), readback.SiteRef(s.site); name != s.name || ref != s.ref {
			t.Errorf("%q %q, want %q %q", name, ref, s.name, s.ref)
		}
	}
}

// Counts are lined up as they are: in words, two of them side by side, and those of a box that
// was exchanged with what the machine holds since.
func TestCounts(t *testing.T) {
	tell, list, p := opened(t)
	expect := func(said, want string) {
		t.Helper()
		floor.Expect(t, said, want, "")
	}
	expect(readback.LevelsInWords(tell, list, p), "40 x 50s, 150 x 20s, 200 x 10s")
	face := func(i int) cashmath.Face { return list[i].Face }
	first := cashmath.Notes{face(0): 12, face(1): 60, face(2): 80}
	second := cashmath.Notes{face(0): 12, face(1): 59, face(2): 80}
	expect(floor.Said(readback.BothCounts(tell, list, first, second)),
		"first|second|50s     12      12|20s     60      59")
	some := floor.Said(readback.Listed(tell, list, []int64{0, 60, 0}, "usual-sealed")...)
	floor.Expect(t, some, "20s|60 notes|€1,200", "50s|10s")
	expect(floor.Said(readback.Swap(tell, list[1], 30, 150)...),
		"20s (middle box). Please check:|30 notes|€600|150 notes|€3,000")
	for more, want := range map[int64]string{120: "holds €2,400 more now", -30: "holds €600 less now",
		0: "as much as before"} {
		expect(readback.SwapHolds(tell, list[1], more), want)
	}
	expect(readback.Guessed(tell, list, []counts.Item{{Line: 0, Notes: 150}, {Line: 1, Notes: 1200}}),
		"Do you mean 50s 150? 20s 1,200?")
}

// A total beside the counts is held against them, to the cent.
func TestDiffers(t *testing.T) {
	tell, list, _ := opened(t)
	// 1,400 + 1,800 + 1,200
	items := []counts.Item{{Line: 0, Notes: 28}, {Line: 1, Notes: 90}, {Line: 2, Notes: 120}}
	for total, want := range map[string]string{"4400": "", "4400.01": "These notes make €4,400, not €4,400.01",
		"4300": "These notes make €4,400, not €4,300"} {
		got := readback.Differs(tell, list, counts.Result{Items: items, Total: total})
		if (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%s: %q", total, got)
		}
	}
}

// A printed sum is held against counts that are read back, which come to 7,000; a figure that may be
// a count is none, nor is one beside a line that is open.
func TestPrinted(t *testing.T) {
	tell, list, _ := opened(t)
	for says, want := range map[string]string{
		"7000": "€7,000: that is what your numbers make, too.", "€7,000.00": "€7,000: that is",
		"7200": "It says €7,200, your numbers make €7,000.", "€40": "It says €40, your numbers make",
		"40": "", "2000": "", "12 60 80": "", "nothing": "",
	} {
		got := readback.Printed(tell, list, []int64{40, 150, 200}, says)
		if want == "" && got != "" || !strings.HasPrefix(got, want) {
			t.Errorf("%q: %q, want %q", says, got, want)
		}
	}
	if got := readback.Printed(tell, list, []int64{40, -1, 200}, "7000"); got != "" {
		t.Errorf("a line is open: %q", got)
	}
}

// What is probably a slip is asked back with what may be meant: what cannot be is never kept, an
// empty box is told apart from one that was forgotten, and amounts of money are asked all at once.
func TestDoubted(t *testing.T) {
	tell, list, _ := opened(t)
	for _, s := range []struct {
		typed     []int64
		line      int
		doubt     lines.Doubt
		want, not string
	}{
		{[]int64{40, 3000, 200}, 1, lines.Doubt{Why: "money", Likely: 150, Hard: true},
			"3,000 notes of 20s (middle box)? That would be €60,000|€3,000 is 150 notes|[150 notes] use|] again",
			"keep"},
		{[]int64{400, 150, 200}, 0, lines.Doubt{Why: "far"},
			"400 notes of 50s (top box)? You usually load about|] keep|[Change] again", "use"},
		{[]int64{0, 60, 80}, 0, lines.Doubt{Why: "empty"}, "50s (top box), 0 notes.|[Empty] keep|] again", "use"},
		{[]int64{40, 150, 200}, 2, lines.Doubt{Why: "value", Likely: 200},
			"€2,000 in 10s is 200 notes. Right?|[200 notes] use|[Change] again", "keep"},
		{[]int64{40, 150, 200}, 0, lines.Doubt{Why: "value", More: []int{2}},
			"€2,000 in 50s is 40 notes.|€2,000 in 10s is 200 notes.|Right?|[Yes] use|[Change] again", "20s|keep"},
	} {
		body, buttons := readback.Doubted(tell, list, s.typed, s.line, s.doubt)
		floor.Expect(t, shown(body, buttons), s.want, s.not)
	}
}

// The two questions of a checklist name its day and what is asked, and each answer is bound to
// that list.
func TestChecklist(t *testing.T) {
	tell, _, p := opened(t)
	r := readback.WhereTried(tell, p, []books.Place{books.Till, books.Cash})
	floor.Expect(t, shown(r.Body, r.Buttons),
		"Wed 25 Nov|1-1-1|o:ticks:1.test-till.|o:ticks:1.test-cash.|o:ticks:1.test-none.", "")
	how := readback.HowChecked(tell, p, []string{"device", "bank"})
	floor.Expect(t, shown(how.Body, how.Buttons),
		"how were the notes checked|[With a device] o:ticks:1.checked-device.|o:ticks:1.checked-bank.", "trained")
	if r.Key == "" || r.Key != how.Key {
		t.Errorf("cards %q and %q are not those of the checklist", r.Key, how.Key)
	}
}
