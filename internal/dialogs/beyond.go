package dialogs

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// What is more than the books can explain is asked back and still recorded
// when somebody insists: a top-up may be missing from the books, and the notes
// in somebody's hand are what counts.

// checkOld asks back more notes left in a box than were ever put in. What was
// put in is what people typed themselves, so it tells nobody what should be there.
func checkOld(c *talk, l line, n int64) doubt {
	d := checkFits(c, l, n)
	b := c.target().Box(l.box)
	if b == nil || n <= b.Held {
		return d
	}
	likely := int64(0)
	if notes, ok := asMoney(l, n); ok && notes <= b.Held {
		return doubt{why: "money-left", likely: notes, hard: d.hard}
	}
	for _, slid := range []int64{n / 10, n / 100} {
		if slid > 0 && slid <= b.Held && n%10 == 0 {
			likely = slid
			break
		}
	}
	if d.hard {
		d.why, d.likely = "capacity", likely
		return d
	}
	return doubt{why: "left-more", likely: likely}
}

// beyond are the doubts behind which a missing top-up can stand.
var beyond = []string{"left-more", "money-left", "not-there", "money-out"}

// missedTopUp asks for a top-up that is missing from the books, in the middle
// of another dialog.
var missedTopUp = question{
	name: "added", lines: boxLines, partial: true, check: checkAdded, what: "what.added",
	next: func(*talk) string { return "added-review" },
}

// withMissedTopUp lets a question offer to record a missing top-up first; what
// was typed is kept and looked at again after it.
func withMissedTopUp(q question, screens map[string]screen) map[string]screen {
	s := q.screen()
	s.ask = func(c *talk) *card {
		_, d := q.doubt(c, q.lines(c), q.values(c))
		k := q.ask(c)
		if k != nil && slices.Contains(beyond, d.why) {
			last := len(k.buttons) - 1
			k.buttons = slices.Insert(k.buttons, last, c.button("missed-topup", "missed-topup"))
		}
		return k
	}
	s.taps["missed-topup"] = func(c *talk) {
		c.forget("added")
		c.first(c.v.Say("missed-topup"))
		c.goTo("added")
	}
	screens[q.name] = s
	screens["added"] = missedTopUp.screen()
	screens["added-review"] = topUpBooking(func(c *talk) { confirmMissed(c, q.name) }).screen()
	screens["change"] = changeLines(missedTopUp)
	return screens
}

// confirmMissed records the top-up that was missing and goes back.
func confirmMissed(c *talk, back string) {
	done, ok := c.recordTopUp()
	if !ok {
		return
	}
	c.first(done)
	c.forget("added")
	c.goTo(back)
}

// usualOf is what this shop usually loads of a box, or of a kind of note over
// all boxes; 0 where that is not known.
func usualOf(c *talk, l line) int64 {
	var n int64
	for _, u := range loadLines(c) {
		if u.face == l.face && (l.box == 0 || l.box == u.box) {
			n += u.usual
		}
	}
	return n
}

// weekOfLoads is how many usual loads come from the bank, or go there, at a
// time at most. Common practice, no source.
const weekOfLoads = 7

// checkOutside asks back a move between till, safe and bank that is far above
// what this shop moves, or that looks like an amount of money.
func checkOutside(c *talk, t transfer, l line, n int64) doubt {
	most := usualOf(c, l)
	if t.from == books.Bank || t.to == books.Bank {
		most *= weekOfLoads
	}
	notes, money := asMoney(l, n)
	switch {
	case money && n >= clearlyMoney, most > 0 && n > most, c.over(cashmath.Value(l.face, n)):
	default:
		return doubt{}
	}
	if money && (most == 0 || notes <= most) {
		return doubt{why: "money-usual", likely: notes}
	}
	return doubt{why: "far-move"}
}

// clearlyMoney is the number from which one that can be an amount of money is
// asked back wherever it stands. Common practice, no source.
const clearlyMoney = 1000
