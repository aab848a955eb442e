package dialogs

import (
	"slices"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// A transfer is one usual way notes move, offered as a button.
type transfer struct {
	id       string
	from, to books.Place // books.Boxes stands for the machine's note boxes
	reason   books.Reason
}

// transfers lists the usual ways, the machine's first.
var transfers = []transfer{
	{"change", books.Boxes, books.Till, books.Change},
	{"return", books.Till, books.Boxes, books.Returned},
	{"exchange", books.Boxes, books.Till, books.Exchange},
	{"warning", books.Boxes, books.Cash, books.Warning},
	{"cash-change", books.Cash, books.Till, books.Change},
	{"cash-return", books.Till, books.Cash, books.Returned},
	{"from-bank", books.Bank, books.Cash, books.FromBank},
	{"to-bank", books.Cash, books.Bank, books.FromBank},
}

func moveFlow() *flow {
	return &flow{
		name: doMove, title: "move", version: 1, start: startMove,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: anyDay, part: 4, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{addedQuestion, outQuestion, inQuestion},
		commands: []command{{name: doMove, does: startsDialog, help: helpOften, takes: anyWords, menu: 4}},
		screens: withMissedTopUp(outQuestion, map[string]screen{
			"how":   pick{head: askHow, options: ways, what: "what.move"}.screen(),
			"in":    inQuestion.screen(),
			"whose": whose(movedCounts),
			"review": booking{read: readMove, over: overOwed, book: bookMove, answer: typedCounts(movedCounts),
				other: changes(anew("out", "out", "in"))}.screen(),
		}),
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

// startMove reads what it can from the command: which way, and which notes.
// The words for it stand in the catalogue: "change, borrow" are alternatives,
// "from+bank" needs both.
func startMove(c *talk) {
	c.goTo("how")
	words := strings.Fields(fold(c.in.Text))
	for _, t := range transfers {
		if says(words, c.v.Say("words.move-"+t.id)) {
			setHow(c, t)
			break
		}
	}
	if c.rest != "" && c.State.Step == "out" {
		c.rest = c.without(c.rest, "words.moving")
		c.take(outQuestion)
	}
}

func says(words []string, alternatives string) bool {
	for _, all := range strings.Split(alternatives, ", ") {
		if !slices.ContainsFunc(strings.Split(all, "+"), func(w string) bool { return !slices.Contains(words, w) }) {
			return true
		}
	}
	return false
}

// without drops the words of a catalogue list from a text.
func (c *talk) without(text, list string) string {
	drop := c.v.List(list)
	return strings.Join(slices.DeleteFunc(strings.Fields(text), func(w string) bool {
		return slices.Contains(drop, fold(w))
	}), " ")
}

func askHow(c *talk) *card {
	k := asking("ask.how")(c)
	if owed := c.m.Owed(); owed.IsPositive() {
		k.body = append(k.body, Block{Text: c.v.Say("owed", "money", c.v.Money(owed))})
	}
	return k
}

// ways are the transfers that are possible now.
func ways(c *talk) (list []option) {
	for _, t := range transfers {
		if t.inMachine() && (c.m.Current() == nil) || t.reason == books.Returned && len(c.m.Debts) == 0 {
			continue
		}
		list = append(list, option{label: c.v.Say("button.move-" + t.id), value: t.id,
			take: func(c *talk) { setHow(c, t) }})
	}
	return list
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

// checkOut asks back more notes than can be in the box, and what is far from
// what this shop moves.
func checkOut(c *talk, l line, n int64) doubt {
	t := c.transfer()
	if t.to == books.Boxes {
		return checkAdded(c, l, n)
	}
	if n == 0 {
		return doubt{}
	}
	if t.from != books.Boxes {
		return checkOutside(c, t, l, n)
	}
	level, _ := estimate(c.target(), l.box)
	if n <= level {
		return doubt{}
	}
	if notes, ok := asMoney(l, n); ok && notes <= level {
		return doubt{why: "money-out", likely: notes}
	}
	return doubt{why: "not-there"}
}

func checkIn(c *talk, l line, n int64) doubt { return checkAdded(c, l, n) }

// movedCounts are what was counted of a move: of a swap at equal value both sides.
func movedCounts(c *talk) []question {
	if c.transfer().reason == books.Exchange {
		return []question{outQuestion, inQuestion}
	}
	return []question{outQuestion}
}

func readMove(c *talk) []Block {
	t := c.transfer()
	shown, n := c.some(outQuestion)
	if len(n) == 0 {
		return nil
	}
	table, out := c.countTable(shown, n)
	body := []Block{{Text: c.v.Say("review.move-" + t.id)}, table}
	if t.reason != books.Exchange {
		return body
	}
	_, in := c.countTable(moveLines(c), inQuestion.values(c))
	if !in.Equal(out) {
		c.first(c.v.Say("not-equal", "out", c.v.Money(out), "in", c.v.Money(in),
			"diff", c.v.Money(out.Sub(in).Abs())))
		anew("in", "in")(c)
		return nil
	}
	shown, n = c.some(inQuestion)
	back, _ := c.countTable(shown, n)
	return append(body, Block{Text: c.v.Say("review.exchange-in")}, back)
}

// overOwed asks back what is more than the till owes.
func overOwed(c *talk) string {
	_, out := c.countTable(moveLines(c), outQuestion.values(c))
	if c.transfer().reason != books.Returned || !out.GreaterThan(c.m.Owed()) {
		return ""
	}
	return c.v.Say("more-than-owed", "money", c.v.Money(c.m.Owed()))
}

func bookMove(c *talk) {
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
		lines = append(lines, c.lock())
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
