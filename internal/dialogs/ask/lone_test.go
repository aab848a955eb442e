package ask_test

import (
	"testing"

	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// paidOut is a made-up question for printed figures, where one total alone may
// be known.
func paidOut() ask.Question {
	return ask.Question{Name: "paid", Money: true, Lines: ask.KindLines, Total: totals}
}

// A figure that names no line, where none is asked by itself, waits until it is
// known which one it is for: tapped, typed, or dropped.
func TestLoneFigure(t *testing.T) {
	q := ask.Question{Name: "added", Partial: true}
	waiting := func() *floor.Floor {
		f := asks(t, q)
		f.Says("staff1", "50")
		return f
	}
	for choice, want := range map[string]string{
		"of-0": "answered [50 0 0]", "of-2": "answered [0 0 50]", "no-kind": "How many notes do you add?",
		"of-3": "does not work any more", "of--1": "does not work any more", "again": "\n  50: in which box?",
		"together": "How many notes do you add?",
	} {
		expect(t, waiting().Chooses("staff1", choice), want, "")
	}
	for typed, want := range map[string]string{
		"20s": "answered [0 50 0]", "upstairs": "did not understand|in which box?",
		"the middle": "answered [0 50 0]", "middle": "answered [0 50 0]", "change": "How many notes do you add?",
		"back": "How many notes do you add?", "20x7": "answered [0 7 0]", "Change ": "How many notes do you add?",
		"60": "One at a time, please. First:|50: in which box?", "10s 3": "answered [0 0 3]",
	} {
		expect(t, waiting().Says("staff1", typed), want, "")
	}
}

// Where every line has its answer, a figure alone is asked for its line; where
// one is open it is for that.
func TestLoneFigureWhereAllIsAnswered(t *testing.T) {
	q := ask.Question{Name: "loaded", Check: func(_ *engine.Talk, _ ask.Line, n int64) ask.Doubt {
		return ask.Doubt{Why: map[bool]string{true: "far"}[n == 999], Likely: 7}
	}}
	f := asks(t, q)
	expect(t, f.Says("staff1", "40 999 200"), "999 notes of 20s", "")
	expect(t, f.Says("staff1", "41"), "answered [40 41 200]", "which box") // for the doubtful one
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "41"), "middle box", "which box")
	f = asks(t, ask.Question{Name: "tray", None: true, Lines: ask.KindLines})
	expect(t, f.Says("staff1", "2"), "2 of which kind?", "answered")
	expect(t, f.Says("staff1", "10s"), "50s: how many|So far: 10s 2.", "which kind")
	expect(t, f.Says("staff1", "0"), "20s: how many", "which kind")
}

// Money alone for notes of some kind is for those that can make it, and for none
// when none can.
func TestLoneMoney(t *testing.T) {
	q := ask.Question{Name: "added", Partial: true}
	f := asks(t, q)
	expect(t, f.Says("staff1", "€60"), "€60: in which box?|[20s (middle box)]|[10s (bottom box)]", "50s")
	expect(t, f.Taps("staff1", "20s"), "€60 in 20s is 3 notes. Right?", "answered")
	expect(t, f.Chooses("staff1", "use"), "answered [0 3 0]", "")
	f = asks(t, q)
	expect(t, f.Says("staff1", "€65"), `"€65" is not a whole number of 50s 20s 10s.`, "which box")
}

// Among printed figures one amount may be a total: then it is asked whether it is
// everything together.
func TestLoneTotal(t *testing.T) {
	f := asks(t, paidOut())
	expect(t, f.Says("staff1", "€4400"),
		"€4,400 of the 50s, or everything together?|[€4,400 of the 50s]|[Everything together]|[Change]", "")
	expect(t, f.Taps("staff1", "Everything"), "total 4400", "answered")
	f = asks(t, paidOut())
	f.Says("staff1", "€4400")
	expect(t, f.Taps("staff1", "€4,400 of"), "20s: how many", "together")
	f = asks(t, paidOut())
	expect(t, f.Says("staff1", "€4420"), "€4,420: is that everything together?|[Everything together]|[Change]",
		"of the 50s")
	f = asks(t, paidOut())
	expect(t, f.Says("staff1", "€4425"), "€4,425 cannot be made of 50s 20s 10s.", "together")
	f = asks(t, paidOut())
	expect(t, f.Says("staff1", "28"), "20s: how many", "together") // notes of the first
	expect(t, f.Says("staff1", "€4430"), "not a whole number of 20s", "together")
}

// A total that no kind alone can make, and all together can.
func TestLoneTotalOfNoKind(t *testing.T) {
	f := floor.New(t, floor.Of(asking(paidOut())))
	f.Shop.Machines[0].Boxes = f.Shop.Machines[0].Boxes[:2]
	expect(t, f.Says("staff1", "move"), "Now the slip, paid out: 50s 20s.", "50s: how many")
	expect(t, f.Says("staff1", "€70"), "€70: is that everything together?|[Everything together]", "of the")
	expect(t, f.Taps("staff1", "Everything"), "total 70", "")
}

// Where there is one line only a figure is for that.
func TestOneLine(t *testing.T) {
	f := floor.New(t, floor.Of(asking(ask.Question{Name: "added", Partial: true})))
	f.Shop.Machines[0].Boxes = f.Shop.Machines[0].Boxes[1:2]
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "50"), "answered [50]", "which")
	f = floor.New(t, floor.Of(asking(ask.Question{Name: "added", Partial: true})))
	f.Shop.Machines[0].Boxes = f.Shop.Machines[0].Boxes[:2]
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "50"), "50: in which box?|[50s (top box)]|[20s (bottom box)]", "answered")
	f = floor.New(t, floor.Of(asking(ask.Question{Name: "loaded"})))
	f.Shop.Machines[0].Boxes = f.Shop.Machines[0].Boxes[1:2]
	expect(t, f.Says("staff1", "move"), "20s (note box): how many", "all at once")
}
