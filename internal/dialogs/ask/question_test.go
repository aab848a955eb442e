package ask_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

var expect = floor.Expect

// asks has staff1 at a question; what was answered is shown at the screen after
// it, as "answered [40 150 200]".
func asks(t *testing.T, q ask.Question) *floor.Floor {
	t.Helper()
	flow := asking(q)
	return begun(t, flow)
}

func asking(q ask.Question) *engine.Flow {
	var got []int64
	q.Next = func(c *engine.Talk) string { got = slices.Clone(q.Values(c)); return "done" }
	if q.Lines == nil {
		q.Lines = ask.BoxLines
	}
	if q.Total != nil {
		q.Total = func(c *engine.Talk, amount string) { c.First("total " + amount); c.GoTo("total") }
	}
	done := engine.Screen{Ask: func(*engine.Talk) *engine.Card {
		return &engine.Card{Body: []chat.Block{{Text: fmt.Sprint("answered ", got)}}}
	}}
	flow := floor.MadeUp(q.Name, map[string]engine.Screen{q.Name: q.Screen(), "done": done,
		"total": floor.Screen("total", nil)})
	flow.Asks = []engine.Asked{q}
	return flow
}

// totals makes a question take a total.
func totals(*engine.Talk, string) {}

// Lines are asked one by one from the top, or answered all at once; what was
// understood stays.
func TestAskedOneByOne(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Play("staff1: cancel\nstaff1: move"),
		"50s (top box): how many|Or all at once, in this order: 50s 20s 10s", "answered")
	expect(t, f.Says("staff1", "40"), "20s (middle box): how many", "all at once|So far")
	expect(t, f.Says("staff1", "10s 200"), "20s (middle box): how many|So far: 50s 40, 10s 200.", "")
	expect(t, f.Says("staff1", "150"), "answered [40 150 200]", "")
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "40 150 200"), "answered [40 150 200]", "")
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "40 150"), "10s (bottom box): how many", "answered|missing")
	expect(t, f.Says("staff1", "0"), "answered [40 150 0]", "")
}

// What is not understood says why and how, and words that are no count are none.
func TestNotUnderstood(t *testing.T) {
	for said, want := range map[string]string{
		"-3":               "cannot be below zero: \"-3\". Type it like 50x40 20x70 10x100.|top box",
		"1.5":              "Only whole notes",
		"30x7":             "This machine has no 30s. It has 50s 20s 10s.",
		"20x":              `How many? "20x" has no number.`,
		"20 x ":            `How many? "20 x" has no number.`,
		"x":                "I did not understand that.",
		"1 2 3 4":          "More numbers than kinds of note. The order is 50s 20s 10s.",
		"9999999999":       "is too many notes",
		"only one total":   "I need the notes of each kind, like 50x40 20x70 10x100.",
		"total 400":        "I need the notes of each kind, like 50x40 20x70 10x100.",
		"over there it is": "I did not understand that. Nothing is lost.",
		"20x5 20x6":        "20s came twice.",
	} {
		f := asks(t, ask.Question{Name: "loaded"})
		expect(t, f.Says("staff1", said), want, "answered")
	}
	f := asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "50s 40, 20s -3"), "below zero|20s (middle box): how many", "") // the 40 stays
}

// Where lines that are not named count as none, one that is named is enough; a
// figure alone is asked for its line first.
func TestPartial(t *testing.T) {
	q := ask.Question{Name: "added", Partial: true}
	f := asks(t, q)
	expect(t, f.Play("staff1: cancel\nstaff1: move"), "How many notes do you add?", "all at once|top box")
	expect(t, f.Says("staff1", "20x50"), "answered [0 50 0]", "")
	f = asks(t, q)
	expect(t, f.Says("staff1", "50"),
		"50: in which box?|[50s (top box)]|[20s (middle box)]|[10s (bottom box)]|[Change]", "answered")
	expect(t, f.Taps("staff1", "20s"), "answered [0 50 0]", "")
	f = asks(t, ask.Question{Name: "added", Partial: true, Lines: ask.KindLines})
	expect(t, f.Says("staff1", "50"), "50 of which kind?|[50s]|[20s]|[10s]|[Change]", "box")
}

// None is one word, one nought or one tap, as long as nothing was answered.
func TestNone(t *testing.T) {
	q := ask.Question{Name: "tray", None: true, Lines: ask.KindLines}
	for _, none := range []func(*floor.Floor) string{
		func(f *floor.Floor) string { return f.Says("staff1", "none") },
		func(f *floor.Floor) string { return f.Says("staff1", "0") },
		func(f *floor.Floor) string { return f.Taps("staff1", "No, it is empty") },
	} {
		f := asks(t, q)
		expect(t, none(f), "answered [0 0 0]", "")
	}
	f := asks(t, q)
	expect(t, f.Says("staff1", "20x2 10x1"), "50s", "answered|[No, it is empty]")
	expect(t, f.Says("staff1", "none"), "answered [0 2 1]", "") // for the one that is asked
	f = asks(t, q)
	expect(t, f.Says("staff1", "middle box 5"), "could not take in|[No, it is empty]", "") // kinds are no boxes
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "none"), "20s (middle box)", "answered")
	if _, ok := f.Button("staff1", "No, it"); ok {
		t.Error("none can be tapped where it is no answer")
	}
	expect(t, f.Chooses("staff1", "none"), "does not work any more", "")
}

// Back opens the line before once more, and at the first says that there is none.
func TestBack(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "back"), "There is nothing before this.|top box", "")
	f.Says("staff1", "40")
	expect(t, f.Says("staff1", "back"), "50s (top box): how many", "nothing before")
	f.Says("staff1", "41")
	f.Says("staff1", "150")
	expect(t, f.Says("staff1", "Back"), "20s (middle box): how many", "")
	expect(t, f.Says("staff1", "151 200"), "answered [41 151 200]", "")
}

// Back passes lines by that are not answered yet.
func TestBackOverAnOpenLine(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded", Check: func(_ *engine.Talk, _ ask.Line, n int64) ask.Doubt {
		return ask.Doubt{Why: map[bool]string{true: "far"}[n > 500], Likely: 7}
	}})
	expect(t, f.Says("staff1", "50s 40, 10s 900"), "900 notes of 10s", "")
	expect(t, f.Says("staff1", "back"), "900 notes of 10s", "nothing before")
	expect(t, f.Chooses("staff1", "keep"), "50s (top box): how many|So far: 10s 900.", "")
}

// The caution above is said once, at the first line and for now only; what is
// said before each line is said each time.
func TestIntro(t *testing.T) {
	n := 0
	q := ask.Question{Name: "loaded", Intro: "lock", Before: func(*engine.Talk) string {
		if n++; n > 2 {
			return ""
		}
		return fmt.Sprint("before ", n)
	}, Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip", "skip")} },
		Taps: map[string]func(*engine.Talk){"skip": engine.GoBack("done")}, What: "what.move",
		Typed: []string{"skip"}}
	f := begun(t, asking(q))
	expect(t, f.Out.String(),
		"before 1\n  Now close and lock the safe.\n  50s (top box)|[Skip|[More]", "")
	expect(t, f.Step("staff1", chat.Input{Kind: chat.Redraw}, "(looks)"), "before 2|top box", "lock the safe")
	expect(t, f.Says("staff1", "hm"), "top box", "before")
	expect(t, f.Says("staff1", "skip"), "answered", "")
	q = ask.Question{Name: "loaded", Intro: "lock", Lines: ask.BoxLines}
	flow := asking(q)
	flow.Start = func(c *engine.Talk) { c.GoTo("loaded"); ask.Take(c, q.Answer) }
	with := floor.New(t, floor.Of(flow))
	expect(t, with.Says("staff1", "move 40"), "middle box", "lock the safe")
	flow = asking(q)
	flow.Start = func(c *engine.Talk) { c.State.Draft.Happened = c.In.At.Add(-time.Hour); c.GoTo("loaded") }
	expect(t, begun(t, flow).Out.String(), "top box", "lock the safe")
}

// A count that a check doubts is asked back: the likely one is offered, what was
// typed may be kept unless it cannot be, or it is asked for once more.
func TestDoubts(t *testing.T) {
	check := func(hard bool, likely int64) func(*engine.Talk, ask.Line, int64) ask.Doubt {
		return func(_ *engine.Talk, l ask.Line, n int64) ask.Doubt {
			if l.Box == 2 && n > 500 {
				return ask.Doubt{Why: "far", Likely: likely, Hard: hard}
			}
			return ask.Doubt{}
		}
	}
	said := func(hard bool, likely int64, lines ...string) (f *floor.Floor, last string) {
		f = asks(t, ask.Question{Name: "loaded", Check: check(hard, likely)})
		last = f.Says("staff1", "40 3000 200")
		for _, l := range lines {
			last = f.Chooses("staff1", l)
		}
		return f, last
	}
	_, got := said(false, 150)
	expect(t, got, "3,000 notes of 20s (middle box)?|[150 notes]|[It really is 3,000]|[Change]", "answered")
	_, got = said(false, 0)
	expect(t, got, "[It really is 3,000]|[Change]", "[0 notes]")
	_, got = said(true, 150)
	expect(t, got, "[150 notes]|[Change]", "[It really")
	_, got = said(false, 150, "use")
	expect(t, got, "answered [40 150 200]", "")
	_, got = said(false, 150, "keep")
	expect(t, got, "answered [40 3000 200]", "")
	_, got = said(true, 150, "keep") // from a card that does not show it
	expect(t, got, "3,000 notes of 20s", "answered")
	_, got = said(false, 900, "use") // what was offered is taken as it is
	expect(t, got, "answered [40 900 200]", "")
	f, got := said(false, 150, "again")
	expect(t, got, "20s (middle box): how many|So far: 50s 40, 10s 200.", "3,000")
	expect(t, f.Says("staff1", "700"), "700 notes of 20s", "answered")
	expect(t, f.Chooses("staff1", "keep"), "answered [40 700 200]", "")
	f, _ = said(false, 150)
	expect(t, f.Says("staff1", "160"), "answered [40 160 200]", "") // typed in place of a tap
	f, _ = said(false, 150)
	expect(t, f.Says("staff1", "back"), "3,000 notes of 20s", "") // the line before is asked when this is clear
	expect(t, f.Chooses("staff1", "use"), "50s (top box): how many", "")
}

// What a person insisted on is doubted anew when it changes.
func TestDoubtedAnew(t *testing.T) {
	q := ask.Question{Name: "loaded", Check: func(_ *engine.Talk, _ ask.Line, n int64) ask.Doubt {
		if n > 500 {
			return ask.Doubt{Why: "far", Likely: 7}
		}
		return ask.Doubt{}
	}}
	f := asks(t, q)
	f.Says("staff1", "600 600")
	expect(t, f.Chooses("staff1", "keep"), "600 notes of 20s", "top")
	expect(t, f.Chooses("staff1", "keep"), "10s (bottom box): how many", "")
	expect(t, f.Says("staff1", "50x601"), "601 notes of 50s", "")
	f.Chooses("staff1", "keep")
	expect(t, f.Says("staff1", "3"), "answered [601 600 3]", "")
}

// Money that is typed for notes is read back, one amount by itself, several
// together; where figures are printed it is as welcome as notes.
func TestMoneyForNotes(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "50s 40, €3000 in 20s, 10s 200"),
		"€3,000 in 20s is 150 notes. Right?|[150 notes]|[Change]",
		"answered|[It really")
	expect(t, f.Chooses("staff1", "use"), "answered [40 150 200]", "")
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "€2000 in 50s, €3000 in 20s, 10s 200"),
		"€2,000 in 50s is 40 notes.|€3,000 in 20s is 150 notes.|Right?|[Yes]|[Change]", "answered|10s is")
	expect(t, f.Chooses("staff1", "use"), "answered [40 150 200]", "")
	f = asks(t, ask.Question{Name: "loaded"})
	f.Says("staff1", "€2000 in 50s, €3000 in 20s, 10s 200")
	expect(t, f.Chooses("staff1", "again"), "€3,000 in 20s is 150 notes. Right?", "50s")
	expect(t, f.Chooses("staff1", "use"), "50s (top box): how many", "")
	expect(t, f.Says("staff1", "41"), "answered [41 150 200]", "")
	f = asks(t, ask.Question{Name: "paid", Money: true, Lines: ask.KindLines})
	expect(t, f.Says("staff1", "€1400 €1800 €1200"), "answered [28 90 120]", "Right?")
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "€3000.00 in 20s"), "€3,000 in 20s is 150 notes. Right?", "answered")
	f = asks(t, ask.Question{Name: "loaded"})
	expect(t, f.Says("staff1", "€3010 in 20s"), "is not a whole number of 20s", "answered")
}

// A figure that is put right without its kind is the one before, not the next one: as long
// as one is open, and no doubt asks for another.
func TestFigureBefore(t *testing.T) {
	for name, x := range map[string]struct {
		said []string
		want string
	}{
		"the first":           {[]string{"i mean 45", "150", "200"}, "answered [45 150 200]"},
		"the one before":      {[]string{"40", "i mean 45", "150", "200"}, "answered [45 150 200]"},
		"the second":          {[]string{"40", "150", "sorry, 160", "200"}, "answered [40 160 200]"},
		"behind an open one":  {[]string{"10s 200", "i mean 40", "150"}, "answered [40 150 200]"},
		"in place of a doubt": {[]string{"40", "900", "i mean 150", "200"}, "answered [40 150 200]"},
		"with its kind":       {[]string{"40", "150", "i mean 50s 45", "200"}, "answered [45 150 200]"},
	} {
		f := asks(t, ask.Question{Name: "loaded", Check: func(_ *engine.Talk, _ ask.Line, n int64) ask.Doubt {
			if n > 500 {
				return ask.Doubt{Why: "far", Likely: 7}
			}
			return ask.Doubt{}
		}})
		last := ""
		for _, s := range x.said {
			last = f.Says("staff1", s)
		}
		t.Run(name, func(t *testing.T) { expect(t, last, x.want, "") })
	}
}

// Once a count was money the others may be, too: those from a hundred on are asked back that
// would be a whole number of notes, unless what is usual tells.
func TestAlsoMoney(t *testing.T) {
	check := func(_ *engine.Talk, l ask.Line, n int64) ask.Doubt {
		if l.Box == 1 && n == 2000 {
			return ask.Doubt{Why: "money-usual", Likely: 40}
		}
		return ask.Doubt{}
	}
	usual := func(n int64) func(*engine.Talk) []ask.Line {
		return func(c *engine.Talk) []ask.Line {
			list := ask.BoxLines(c)
			for i := range list {
				list[i].Usual = n
			}
			return list
		}
	}
	for name, x := range map[string]struct {
		typed string
		usual int64
		want  string
	}{
		"the next":              {"2000 3000 80", 0, "[150 notes]"},
		"from a hundred on":     {"2000 100 80", 0, "[5 notes]"},
		"not below a hundred":   {"2000 80 80", 0, "answered [40 80 80]"},
		"no whole number":       {"2000 110 90", 0, "answered [40 110 90]"},
		"where usual is known":  {"2000 3000 80", 150, "answered [40 3000 80]"},
		"not where none was it": {"40 3000 80", 0, "answered [40 3000 80]"},
	} {
		f := asks(t, ask.Question{Name: "loaded", Check: check, Lines: usual(x.usual)})
		last := f.Says("staff1", x.typed)
		if _, ok := f.Button("staff1", "40 notes"); ok {
			last = f.Chooses("staff1", "use")
		}
		t.Run(name, func(t *testing.T) { expect(t, last, x.want, "") })
	}
}

// One total alone is taken where only a total may be known.
func TestTotalAlone(t *testing.T) {
	f := asks(t, ask.Question{Name: "paid", Money: true, Lines: ask.KindLines, Total: totals})
	expect(t, f.Says("staff1", "total 4400"), "total 4400", "answered")
	f = asks(t, ask.Question{Name: "paid", Money: true, Lines: ask.KindLines})
	expect(t, f.Says("staff1", "total 4400"), "I need the notes of each kind", "answered")
}

// A bare number after a long pause is shown before it is taken, and taken when
// it is tapped.
func TestPendingNumber(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded"})
	f.Says("staff1", "40")
	f.Now = f.Now.Add(time.Hour)
	expect(t, f.Says("staff1", "150"), "Let us see where we were|So far: 50s 40.|[Use 150]", "bottom box")
	expect(t, f.Taps("staff1", "Use 150"), "10s (bottom box): how many", "[Use")
	f.Now = f.Now.Add(time.Hour)
	f.Says("staff1", "200")
	expect(t, f.Says("staff1", "201"), "answered [40 150 201]", "Use")
}

// The tap that takes a likely count or a number that waits does nothing where
// there is neither.
func TestUseOfNothing(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded"})
	f.Says("staff1", "40")
	for _, choice := range []string{"use", "keep", "again", "together", "no-kind"} {
		expect(t, f.Chooses("staff1", choice), "20s (middle box): how many", "answered")
	}
	for _, choice := range []string{"of-1", "of-", "of-x", "off", "line-1"} {
		expect(t, f.Chooses("staff1", choice), "does not work any more", "answered")
	}
}

// A question that is left by another command is taken up where its command is
// given again with all its counts, and keeps what it had when they are none.
func TestCountsWithTheCommandAgain(t *testing.T) {
	f := asks(t, ask.Question{Name: "loaded"})
	f.Says("staff1", "40 150")
	expect(t, f.Says("staff1", "move the lot"), `I could not take in "the lot" here.|10s (bottom box)`, "")
	expect(t, f.Says("staff1", "move 41"), "20s (middle box): how many", "So far")
}

// Counts that come with the command are taken at the start, and what is none is
// said.
func TestCountsWithTheCommand(t *testing.T) {
	q := ask.Question{Name: "loaded", Lines: ask.BoxLines}
	flow := asking(q)
	flow.Start = func(c *engine.Talk) { c.GoTo("loaded"); ask.Take(c, q.Answer) }
	f := floor.New(t, floor.Of(flow))
	expect(t, f.Says("staff1", "move 40 150"), "10s (bottom box): how many", "could not")
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff1", "move the lot"), `I could not read "the lot" as numbers of notes.|top box`, "")
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff1", "move"), "top box", "could not")
}
