package dialogs

import (
	"slices"
	"strings"

	"shopfloat/internal/books"
)

// A transfer is one usual way notes move, offered as a button.
type transfer struct {
	id       string
	from, to books.Place // books.Boxes stands for the machine's note boxes
	reason   books.Reason
	words    []string // what a message about it says, all of them
}

// transfers lists the usual ways, the machine's first.
var transfers = []transfer{
	{"change", books.Boxes, books.Till, books.Change, []string{"change|borrow"}},
	{"return", books.Till, books.Boxes, books.Returned, []string{"back|return"}},
	{"exchange", books.Boxes, books.Till, books.Exchange, []string{"exchange"}},
	{"warning", books.Boxes, books.Cash, books.Warning, []string{"warning"}},
	{"cash-change", books.Cash, books.Till, books.Change, []string{"safe", "till"}},
	{"cash-return", books.Till, books.Cash, books.Returned, []string{"till", "safe"}},
	{"from-bank", books.Bank, books.Cash, books.FromBank, []string{"from", "bank"}},
	{"to-bank", books.Cash, books.Bank, books.FromBank, []string{"to", "bank"}},
}

func moveFlow() *flow {
	return &flow{
		name: "move", title: "move", open: true, start: startMove,
		screens: map[string]screen{
			"how":    {ask: askHow, tap: tapHow, what: "what.move"},
			"out":    outQuestion.screen(),
			"in":     inQuestion.screen(),
			"review": {ask: askMoveReview, taps: map[string]func(*talk){"confirm": tapMove, "change": changeMove}, what: "what.review"},
		},
	}
}

var (
	outQuestion = question{
		name: "out", lines: moveLines, partial: true, check: checkOut, what: "what.out",
		next: func(c *talk) string {
			if c.transfer().reason == books.Exchange {
				return "in"
			}
			return "review"
		},
	}
	inQuestion = question{
		name: "in", lines: moveLines, partial: true, check: checkIn, what: "what.in",
		next: func(*talk) string { return "review" },
	}
)

// moveLines are the boxes where the machine has part in the move, else kinds of note.
func moveLines(c *talk) []line {
	if t := c.transfer(); t.from == books.Boxes || t.to == books.Boxes {
		return boxLines(c)
	}
	return kindLines(c)
}

func (c *talk) transfer() transfer {
	for _, t := range transfers {
		if t.id == c.chosen("how") {
			return t
		}
	}
	return transfers[0]
}

// inMachine reports whether the transfer needs an open machine.
func (t transfer) inMachine() bool { return t.from == books.Boxes || t.to == books.Boxes }

func startMove(c *talk) {
	c.goTo("how")
	rest := " " + fold(c.in.Text) + " "
	for _, t := range transfers {
		if every(rest, t.words) {
			setHow(c, t)
			break
		}
	}
	if c.rest != "" && c.State.Step == "out" {
		if cut := strings.IndexAny(c.rest, "0123456789"); cut >= 0 {
			c.rest = firstCounts(c.rest[cut:])
			c.take(outQuestion)
		}
	}
}

// firstCounts keeps the counts a message begins with: "5x20 for change" is "5x20".
func firstCounts(s string) string {
	for _, word := range []string{" for ", " to ", " from ", " back", " in ", " because "} {
		if i := strings.Index(s, word); i >= 0 {
			s = s[:i]
		}
	}
	return s
}

// every reports whether a text holds each word, or one of its "|" alternatives.
func every(s string, words []string) bool {
	for _, w := range words {
		if !slices.ContainsFunc(strings.Split(w, "|"), func(or string) bool { return strings.Contains(s, or) }) {
			return false
		}
	}
	return true
}

func askHow(c *talk) *card {
	k := &card{body: []Block{{Text: c.v.Say("ask.how")}}}
	for _, t := range transfers {
		if t.inMachine() && (c.m.Current() == nil) || t.reason == books.Returned && len(c.m.Debts) == 0 {
			continue
		}
		k.buttons = append(k.buttons, c.button("move-"+t.id, t.id))
	}
	if owed := c.m.Owed(); owed.IsPositive() {
		k.body = append(k.body, Block{Text: c.v.Say("owed", "money", c.v.Money(owed))})
	}
	return k
}

func tapHow(c *talk, choice string) bool {
	for _, t := range transfers {
		if t.id == choice {
			setHow(c, t)
			return true
		}
	}
	return false
}

func setHow(c *talk, t transfer) {
	c.choose("how", t.id)
	if t.inMachine() {
		if p := c.target(); p == nil || p.Status != books.Open {
			c.first(c.nothingOpen())
			return
		}
		c.State.Draft.Period = c.target().No
	}
	c.goTo("out")
}

// checkOut asks back more notes than can be in the box.
func checkOut(c *talk, l line, n int64) doubt {
	t := c.transfer()
	if t.to == books.Boxes {
		return checkAdded(c, l, n)
	}
	if t.from != books.Boxes || n == 0 {
		return doubt{}
	}
	level, _ := estimate(c.target(), l.box)
	if n <= level {
		return doubt{}
	}
	if notes, ok := asMoney(l, n); ok && notes <= level {
		return doubt{why: "money-out", likely: notes, hard: true}
	}
	return doubt{why: "not-there", hard: true}
}

func checkIn(c *talk, l line, n int64) doubt { return checkAdded(c, l, n) }

func askMoveReview(c *talk) *card {
	t, lines := c.transfer(), moveLines(c)
	v := outQuestion.values(c)
	if sum(v) == 0 {
		c.first(c.v.Say("nothing-typed"))
		delete(c.State.Draft.Counts, "out")
		c.goTo("out")
		return nil
	}
	shown, n := someLines(lines, v)
	table, out := c.countTable(shown, n)
	body := []Block{{Text: c.v.Say("review.move-" + t.id)}, table}
	if t.reason == books.Exchange {
		shown, n := someLines(lines, inQuestion.values(c))
		back, in := c.countTable(shown, n)
		body = append(body, Block{Text: c.v.Say("review.exchange-in")}, back)
		if !in.Equal(out) {
			c.first(c.v.Say("not-equal", "out", c.v.Money(out), "in", c.v.Money(in), "diff", c.v.Money(out.Sub(in).Abs())))
			delete(c.State.Draft.Counts, "in")
			c.goTo("in")
			return nil
		}
	}
	k := &card{body: append(body, Block{Text: c.v.Say("right")})}
	k.buttons = [][]Button{c.button("confirm", "confirm"), c.button("change", "change")}
	return k
}

func changeMove(c *talk) {
	delete(c.State.Draft.Counts, "out")
	delete(c.State.Draft.Counts, "in")
	c.goTo("out")
}

func tapMove(c *talk) {
	if c.overtaken() {
		return
	}
	t := c.transfer()
	r := books.Record{Kind: books.Moved, Period: c.State.Draft.Period, Reason: t.reason,
		Moves: movesOf(t.from, t.to, moveLines(c), outQuestion.values(c))}
	if t.reason == books.Exchange {
		r.Moves = append(r.Moves, movesOf(t.to, t.from, moveLines(c), inQuestion.values(c))...)
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	lines := []string{c.v.Say("moved-"+t.id, "when", c.clock(c.when()))}
	if owed := c.m.Owed(); owed.IsPositive() && (t.reason == books.Change || t.reason == books.Returned) {
		lines = append(lines, c.v.Say("owed", "money", c.v.Money(owed)))
	}
	if t.inMachine() {
		lines = append(lines, c.v.Say("lock"))
	}
	c.close(text(lines...))
}

func movesOf(from, to books.Place, lines []line, v []int64) []books.Move {
	var moves []books.Move
	for i, l := range lines {
		if v[i] > 0 {
			moves = append(moves, books.NewMove(at(from, l), at(to, l), l.face, v[i]))
		}
	}
	return moves
}

func at(p books.Place, l line) books.Place {
	if p == books.Boxes {
		return books.BoxPlace(l.box)
	}
	return p
}
