package day_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
)

func TestTopUp(t *testing.T) {
	play(t, open, []story{
		{"asked", "staff2: top up", "[Swap the whole box]|How many notes do you add", "[Confirm]"},
		{"read back", "staff2: top up 20x50, 10x100",
			"50 notes  €1,000|100 notes  €1,000|€2,000|Type the same NUMBER", "50s"},
		{"nothing", "staff2: top up 20x0", "at least one note", "[Confirm]"},
		{"changed", "staff2: top up 20x50\nstaff2: [Change]\nstaff2: [20s (middle box)\nstaff2: 60",
			"60 notes  €1,200", ""},
		{"typed anew", "staff2: top up 20x50\nstaff2: 20x70", "70 notes  €1,400|[Confirm]", ""},
		{"the whole box instead", "staff2: top up\nstaff2: [Swap the]", "Which box", ""},
		{"recorded", "staff2: top up 20x50\nstaff2: [Confirm]", "Top-up recorded, 06:40.|50 notes, €1,000.",
			"[Confirm]"},
		{"above the limit", "staff2: top up 50x661\nstaff2: [Confirm anyway]", "Top-up recorded", ""},
		{"not open", "staff1: undo\nstaff1: [Confirm]\nstaff2: top up 20x50", "not open", "[Confirm]"},
		{"money", "staff2: top up 20x1000", "Did you mean money? €1,000 is 50 notes.|[50 notes]|[It really",
			"[Confirm]"},
		{"taken over", "staff2: top up 20x50\nstaff1: top up 20x50\nstaff1: [Take over]\nstaff1: [Confirm]",
			"Top-up recorded", ""},
	})
	f := onFloor(t, open+"staff2: top up 20x50, 10x1\nstaff2: [Confirm]")
	if r := last(f); r.Kind != books.TopUp || r.Period != 1 || len(r.Figures) != 2 {
		t.Errorf("%+v", r)
	}
	holds(t, f, 40, 200, 201)
}

// The most a box can hold is what it was filled up to, less what left it by the
// level that the machine showed last. A box that is exactly full is taken.
func TestTopUpThatFits(t *testing.T) {
	const odd = "staff1: open 40 150 201\nstaff1: [Confirm]\n"
	play(t, odd, []story{
		{"exactly full", "staff2: top up 10x1799", "1,799 notes|[Confirm]", "fit"}, // 201 + 1,799 = 2,000
		{"one more", "staff2: top up 10x1800", "1,800 more may not fit|[It really is 1,800]",
			"[Confirm]|[Change]s|[199"},
		{"the level says", "staff2: level 40 150 101\nstaff2: [Confirm]\nstaff2: top up 10x1899", // 101 + 1,899
			"[Confirm]", "fit"},
		{"the level says no", "staff2: level 40 150 101\nstaff2: [Confirm]\nstaff2: top up 10x1901",
			"may not fit|[1,899 notes]",
			"[Confirm]"},
		{"topped up since",
			"staff2: level 40 150 101\nstaff2: [Confirm]\nstaff2: top up 10x100\n" +
				"staff2: [Confirm]\nstaff2: top up 10x1801",
			"may not fit|[1,799 notes]", "[Confirm]"},
		{"more than the box", "staff2: top up 10x2001", "do not fit", "It really|[Confirm]"},
	})
	f := onFloor(t, odd+"staff2: top up 10x1799\nstaff2: [Confirm]")
	holds(t, f, 40, 150, 2000)
}

// With €7,000 inside at most, €33,000 more is the most cash allowed.
func TestTopUpToTheLimit(t *testing.T) {
	expect(t, onFloor(t, open).Says("staff2", "top up 50x660"), "[Confirm]", "most cash")
	expect(t, onFloor(t, open).Says("staff2", "top up 50x661"), "€50 above the most cash|[Confirm anyway]", "")
}

func TestSwap(t *testing.T) {
	play(t, open, []story{
		{"asked", "staff2: swap", "[50s (top box)]|[20s (middle box)]|[10s (bottom box)]", "[Confirm]"},
		{"by kind", "staff2: swap 20s", "20s (middle box)|taken out", ""},
		{"by place", "staff2: swap\nstaff2: bottom", "10s (bottom box)", ""},
		{"no such box", "staff2: swap 5s", "could not read \"5s\" as one of the boxes|[50s (top box)]", ""},
		{"read back", "staff2: swap 20s\nstaff2: 60\nstaff2: 150",
			"20s (middle box)|60 notes  €1,200|150 notes  €3,000|[Confirm]", ""},
		{"more", "staff2: swap 20s\nstaff2: 60\nstaff2: 150\nstaff2: [Confirm]",
			"holds €1,800 more now|lock the safe", ""},
		{"less", "staff2: swap 20s\nstaff2: 60\nstaff2: 50\nstaff2: [Confirm]", "holds €200 less now", ""},
		{"the same", "staff2: swap 20s\nstaff2: 60\nstaff2: 60\nstaff2: [Confirm]", "as much as before", ""},
		{"both anew", "staff2: swap 20s\nstaff2: 60\nstaff2: 150\nstaff2: [Change]\nstaff2: 61\nstaff2: 140",
			"61 notes|140 notes|[Confirm]", ""},
		{"whose", "staff2: swap 20s\nstaff2: 60\nstaff2: 150\nstaff2: 70", "[What was taken out]|[What was put in]",
			"[Confirm]"},
		{"it was taken out", "staff2: swap 20s\nstaff2: 60\nstaff2: 150\nstaff2: 70\nstaff2: [What was taken]",
			"70 notes  €1,400|150 notes  €3,000|[Confirm]", ""},
		{"it was put in", "staff2: swap 20s\nstaff2: 60\nstaff2: 150\nstaff2: 170\nstaff2: [What was put]",
			"60 notes  €1,200|170 notes  €3,400|[Confirm]", ""},
		{"more than put in", "staff2: swap 20s\nstaff2: 160",
			"So many were not put in|[It really is 160]|[Record a top-up first]",
			"[Confirm]"},
		{"a nought too many", "staff2: swap 50s\nstaff2: 390",
			"So many were not put in|[39 notes]|[It really is 390]", ""},
		{"two noughts too many", "staff2: swap 50s\nstaff2: 3900", "do not fit|[39 notes]", "It really|[Record"},
		{"all that was put in, with a nought", "staff2: swap 50s\nstaff2: 410", "[It really is 410]", "[41 notes]"},
		{"money", "staff2: swap 20s\nstaff2: 1200", "€1,200 is 60 notes|[60 notes]|[It really", ""},
		{"cannot fit", "staff2: swap 20s\nstaff2: 2011", "do not fit|[Change]", "It really|[Record| notes]"},
		{"all that was put in", "staff2: swap 20s\nstaff2: 150", "put in", "So many"},
		{"not open", "staff1: undo\nstaff1: [Confirm]\nstaff2: swap", "not open", ""},
	})
	f := onFloor(t, open+"staff2: swap 10s\nstaff2: 60\nstaff2: 150\nstaff2: [Confirm]")
	want := []books.Figure{{Field: books.Left, Box: 3, Face: "10", Notes: 60}, {Field: books.Added, Box: 3,
		Face: "10", Notes: 150}}
	if r := last(f); r.Kind != books.Swap || !slices.Equal(r.Figures, want) {
		t.Errorf("%+v", r)
	}
	holds(t, f, 40, 150, 200-60+150)
}

// A machine of one box is not asked which.
func TestSwapOfTheOnlyBox(t *testing.T) {
	f := floorOf(t, func(f *floor.Floor) { f.Shop.Machines[0].Boxes = f.Shop.Machines[0].Boxes[2:] })
	f.Shop.Machines[0].Boxes[0].Position = 1
	f.Play("staff1: open 200\nstaff1: [Confirm]")
	expect(t, f.Says("staff1", "swap"), "taken out", "Which")
}

// Of two boxes with one kind the one that is named is swapped.
func TestSwapOfTwoBoxesAlike(t *testing.T) {
	f := floorOf(t, func(f *floor.Floor) { f.Shop.Machines[0].Boxes[2].Face = "20" })
	f.Play("staff1: open 40 150 100\nstaff1: [Confirm]\nstaff1: swap bottom\nstaff1: 30\nstaff1: 110")
	f.Taps("staff1", "Confirm")
	holds(t, f, 40, 150, 100-30+110)
}

// A top-up that is missing is recorded on the way; the count is kept and agrees then.
func TestMissedTopUp(t *testing.T) {
	f := onFloor(t, open+"staff2: swap 20s\nstaff2: 160\nstaff2: [Record a top-up]")
	expect(t, f.Says("staff2", "20x0"), "at least one note", "")
	expect(t, f.Says("staff2", "20x20"), "20 notes  €400|[Confirm]", "")
	expect(t, f.Play("staff2: [Change]\nstaff2: [20s (middle\nstaff2: 30"), "30 notes  €600|[Confirm]", "")
	expect(t, f.Play("staff2: [Confirm]"), "Top-up recorded|put in", "So many") // 150 + 30 is enough for 160
	expect(t, f.Play("staff2: 150\nstaff2: [Confirm]"), "holds €200 less now", "")
	holds(t, f, 40, 150+30-160+150, 200)
}

// A draft that an older program kept tells its counts by the box they are of.
func TestOlderSwap(t *testing.T) {
	f := onFloor(t, open)
	f.States[floor.ChatOf("staff2")] = chat.State{V: 1, Flow: "swap", Step: "new", Rev: 3,
		Draft: chat.Draft{V: 1, Period: 1,
			Counts: map[string][]int64{"old": {60}, "new": {-1}}, Choices: map[string]string{"box": "2"}}}
	expect(t, f.Says("staff2", "150"), "10s 60", "150")
	f.States[floor.ChatOf("staff2")] = chat.State{V: 1, Flow: "swap", Step: "new", Rev: 3,
		Draft: chat.Draft{V: 1, Period: 1,
			Counts: map[string][]int64{"old": {60}, "new": {-1}}, Choices: map[string]string{"box": "9"}}}
	expect(t, f.Says("staff2", "150"), "50s 60", "150")
}

// A card that stood there until the day was counted, or closed, books nothing for it.
func TestClosedMeanwhile(t *testing.T) {
	for typed, answer := range map[string]string{
		"swap 20s\nstaff2: 60\nstaff2: 150":                        "",
		"swap 20s\nstaff2: 160\nstaff2: [Record a]\nstaff2: 20x20": "",
		"top up 20x50": "",
		"borrow 5x20":  "",
		"test 20x2\nstaff2: [Yes]\nstaff2: [Till]": "",
		"found 2x20\nstaff2: [Put aside]":          "",
		"level 40 150":                             "staff2: 200\nstaff2: [Use 200]",
	} {
		if answer == "" {
			answer = "staff2: [Confirm]\nstaff2: [Confirm]" // the first shows what changed
		}
		for day, want := range map[string]string{
			closedDay:  "The machine is closed, since 21:05 by Ben.",
			countedDay: "Wed 25 Nov is counted and not closed yet.",
		} {
			f := onFloor(t, strings.ReplaceAll(day, "@2026", "staff2: "+typed+"\n@2026"))
			records := len(f.Entries)
			expect(t, f.Play(answer), want, "recorded|[Confirm]")
			if len(f.Entries) != records || f.State("staff2").Flow != "" {
				t.Errorf("%s: %+v", typed, last(f))
			}
		}
	}
}

// What the slip is said to show is no count of notes in somebody's hand: it is asked back at the card of
// a top-up, however it begins.
func TestSlipIsNoTopUp(t *testing.T) {
	for _, said := range []string{"slip is 28 90", "no wait slip is 28 90", "sorry it says 28 90",
		"no wait the slip says 28 90"} {
		f := onFloor(t, open+"staff1: topup 0 50 0")
		expect(t, f.Says("staff1", said), "Do you mean 50s 28? 20s 90? Nothing is taken before you say so.",
			"28 notes|90 notes")
	}
}
