package day

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// What is more than the books can explain is asked back and still recorded
// when somebody insists: a top-up may be missing from the books, and the notes
// in somebody's hand are what counts.

// checkOld asks back more notes left in a box than were ever put in. What was
// put in is what people typed themselves, so it tells nobody what should be there.
func checkOld(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	d := ask.CheckFits(c, l, n)
	b := ask.Target(c).Box(l.Box)
	if b == nil || n <= b.Held {
		return d
	}
	likely := int64(0)
	if notes, ok := ask.AsMoney(l, n); ok && notes <= b.Held {
		return ask.Doubt{Why: "money-left", Likely: notes, Hard: d.Hard}
	}
	for _, slid := range []int64{n / 10, n / 100} {
		if slid > 0 && slid <= b.Held && n%10 == 0 {
			likely = slid
			break
		}
	}
	if d.Hard {
		d.Why, d.Likely = "capacity", likely
		return d
	}
	return ask.Doubt{Why: "left-more", Likely: likely}
}

// beyond are the doubts behind which a missing top-up can stand.
var beyond = []string{"left-more", "money-left", "not-there", "money-out"}

// missedTopUp asks for a top-up that is missing from the books, in the middle
// of another dialog.
var missedTopUp = ask.Question{
	Name: "added", Lines: ask.BoxLines, Partial: true, Check: checkAdded, What: "what.added",
	Next: func(*engine.Talk) string { return "added-review" },
}

// withMissedTopUp lets a question offer to record a missing top-up first; what
// was typed is kept and looked at again after it.
func withMissedTopUp(q ask.Question, screens map[string]engine.Screen) map[string]engine.Screen {
	s := q.Screen()
	s.Ask = func(c *engine.Talk) *engine.Card {
		_, d := q.Doubt(c, q.Lines(c), q.Values(c))
		k := q.Ask(c)
		if k != nil && slices.Contains(beyond, d.Why) {
			last := len(k.Buttons) - 1
			k.Buttons = slices.Insert(k.Buttons, last, c.Button("missed-topup", "missed-topup"))
		}
		return k
	}
	s.Taps["missed-topup"] = func(c *engine.Talk) {
		c.Unanswer("added")
		c.First(c.V.Say("missed-topup"))
		c.GoTo("added")
	}
	screens[q.Name] = s
	screens["added"] = missedTopUp.Screen()
	screens["added-review"] = topUpBooking(func(c *engine.Talk) { confirmMissed(c, q.Name) }).Screen()
	screens["change"] = ask.ChangeLines(missedTopUp)
	return screens
}

// confirmMissed records the top-up that was missing and goes back.
func confirmMissed(c *engine.Talk, back string) {
	done, ok := recordTopUp(c)
	if !ok {
		return
	}
	c.First(done)
	c.Unanswer("added")
	c.GoTo(back)
}

// usualOf is what this shop usually loads of a box, or of a kind of note over
// all boxes; 0 where that is not known.
func usualOf(c *engine.Talk, l ask.Line) int64 {
	var n int64
	for _, u := range loadLines(c) {
		if u.Face == l.Face && (l.Box == 0 || l.Box == u.Box) {
			n += u.Usual
		}
	}
	return n
}

// weekOfLoads is how many usual loads come from the bank, or go there, at a
// time at most. Common practice, no source.
const weekOfLoads = 7

// checkOutside asks back a move between till, safe and bank that is far above
// what this shop moves, or that looks like an amount of money.
func checkOutside(c *engine.Talk, t transfer, l ask.Line, n int64) ask.Doubt {
	most := usualOf(c, l)
	if t.from == books.Bank || t.to == books.Bank {
		most *= weekOfLoads
	}
	notes, money := ask.AsMoney(l, n)
	switch {
	case money && n >= clearlyMoney, most > 0 && n > most, over(c, cashmath.Value(l.Face, n)):
	default:
		return ask.Doubt{}
	}
	if money && (most == 0 || notes <= most) {
		return ask.Doubt{Why: "money-usual", Likely: notes}
	}
	return ask.Doubt{Why: "far-move"}
}

// clearlyMoney is the number from which one that can be an amount of money is
// asked back wherever it stands. Common practice, no source.
const clearlyMoney = 1000
