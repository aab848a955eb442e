package dialogs

import (
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
)

func topUpFlow() *flow {
	return &flow{
		name: doTopUp, title: "topup", version: 1, start: startTopUp,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 2, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{addedQuestion},
		commands: []command{{name: doTopUp, does: startsDialog, help: helpOften, takes: onlyFigures, menu: 2}},
		screens: map[string]screen{
			"added":  addedQuestion.screen(),
			"review": topUpBooking(confirmTopUp).screen(),
			"change": changeLines(addedQuestion),
		},
	}
}

func swapFlow() *flow {
	return &flow{
		name: doSwap, title: "swap", version: 1, start: startSwap,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 3, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{addedQuestion, oldQuestion, newQuestion},
		commands: []command{{name: doSwap, does: startsDialog, help: helpMore, takes: onlyFigures, boxes: true}},
		screens: withMissedTopUp(oldQuestion, map[string]screen{
			"which": pick{head: askSwapWhich, options: swapBoxes, answer: answerSwapWhich, what: "what.swap"}.screen(),
			"new":   newQuestion.screen(),
			"whose": whose(swapCounts),
			"review": booking{read: readSwap, asks: topUpRight, book: bookSwap, answer: typedCounts(swapCounts),
				other: changes(anew("old", "old", "new"))}.screen(),
		}),
	}
}

var (
	addedQuestion = question{
		name: "added", lines: boxLines, intro: "before-topup", partial: true, check: checkAdded, what: "what.added",
		next:  func(*talk) string { return "review" },
		extra: func(c *talk) [][]Button { return [][]Button{c.button("swap-instead", "swap")} },
		taps:  map[string]func(*talk){"swap": func(c *talk) { c.enter(doSwap); startSwap(c) }},
	}
	oldQuestion = question{
		name: "old", lines: swapLine, check: checkOld, what: "what.old",
		next: func(*talk) string { return "new" },
	}
	newQuestion = question{
		name: "new", lines: swapLine, check: checkLoad, what: "what.new",
		next: func(*talk) string { return "review" },
	}
)

// ready finds the open period a dialog is about, or ends the dialog.
func (c *talk) ready() *books.Period {
	p := c.target()
	if p == nil || p.Status != books.Open {
		c.close(Block{Text: c.nothingOpen()})
		return nil
	}
	c.State.Draft.Period = p.No
	return p
}

func startTopUp(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("added")
	c.take(addedQuestion)
}

// estimate is the most a box can hold now: the last level the machine showed
// and what was added since, or all that was put in.
func estimate(p *books.Period, position int) (notes int64, shown bool) {
	b := p.Box(position)
	if len(p.Readings) == 0 || b == nil {
		if b == nil {
			return 0, false
		}
		return b.Held, false
	}
	r := p.Readings[0]
	for _, x := range p.Readings[1:] { // one from paper may have come in after a newer one
		if !x.Happened.Before(r.Happened) {
			r = x
		}
	}
	return r.Boxes[position-1] + b.Held - r.Held[position-1], true
}

// worth is the most the boxes can hold now, in money.
func worth(p *books.Period) decimal.Decimal {
	var sum decimal.Decimal
	for _, b := range p.Boxes {
		n, _ := estimate(p, b.Position)
		sum = sum.Add(cashmath.Value(b.Face, n))
	}
	return sum
}

// checkAdded asks back what the box cannot hold, or may not hold on top of
// what is in it.
func checkAdded(c *talk, l line, n int64) doubt {
	if d := checkFits(c, l, n); d.why != "" {
		return d
	}
	p := c.target()
	level, shown := estimate(p, l.box)
	if level+n <= l.capacity {
		usual := usualOf(c, l)
		much := n >= clearlyMoney || usual > 0 && n > usual && far(n, usual)
		if notes, ok := asMoney(l, n); ok && much && level+notes <= l.capacity {
			return doubt{why: "money-usual", likely: notes}
		}
		return doubt{}
	}
	d := doubt{why: "over-full"}
	if shown {
		d.likely = max(l.capacity-level, 0)
	}
	return d
}

// topUpBooking reads a top-up back.
func topUpBooking(book func(*talk)) booking {
	return booking{read: readTopUp, over: overTopUp, asks: topUpRight, book: book,
		answer: typedCounts(only(missedTopUp)), other: changes(goBack("change"))}
}

func readTopUp(c *talk) []Block {
	shown, n := c.some(addedQuestion)
	if len(n) == 0 {
		return nil
	}
	table, _ := c.countTable(shown, n)
	return []Block{{Text: c.v.Say("review.topup")}, table}
}

func overTopUp(c *talk) string {
	_, total := c.countTable(boxLines(c), addedQuestion.values(c))
	return c.overLimit(worth(c.target()).Add(total))
}

// topUpRight asks whether notes put in are right; what is typed into the machine
// now would be wrong for something from earlier.
func topUpRight(c *talk) string {
	return c.v.Say(either(c.State.Draft.Happened.IsZero(), "topup-type", "right"))
}

// some gives the lines of a question that have notes. Where none has, that is
// said and they are asked again.
func (c *talk) some(q question) (kept []line, counts []int64) {
	v := q.values(c)
	if sum(v) == 0 {
		c.first(c.v.Say("nothing-typed"))
		anew(q.name, q.name)(c)
		return nil, nil
	}
	for i, l := range q.lines(c) {
		if v[i] > 0 {
			kept, counts = append(kept, l), append(counts, v[i])
		}
	}
	return kept, counts
}

func confirmTopUp(c *talk) {
	if done, ok := c.recordTopUp(); ok {
		c.close(text(done, c.lock()))
	}
}

// recordTopUp records the top-up in the draft and says so; ok is false where
// the books refuse it.
func (c *talk) recordTopUp() (done string, ok bool) {
	lines := boxLines(c)
	v := missedTopUp.values(c) // under the name they have in every dialog that asks for them
	r := books.Record{Kind: books.TopUp, Period: c.target().No, Figures: boxFigures(books.Added, lines, v, false)}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return "", false
	}
	_, total := c.countTable(lines, v)
	return c.v.Count("topped-up", sum(v), "when", c.clock(c.when()), "money", c.v.Money(total)), true
}

func startSwap(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("which")
	switch {
	case c.rest == "":
	case !answerSwapWhich(c, c.rest):
		c.first(c.v.Say("not-box", "near", c.rest))
	case c.State.Draft.Happened.IsZero(): // the question that says it is passed over
		c.first(c.v.Say("before-topup"))
	}
}

// answerSwapWhich takes a box by its name, its place or its kind of note.
func answerSwapWhich(c *talk, s string) bool {
	i := c.boxNamed(s)
	if i >= 0 {
		swapBox(c, i)
	}
	return i >= 0
}

func swapBox(c *talk, i int) {
	c.choose("box", strconv.Itoa(i))
	c.goTo("old")
}

// boxNamed finds the one box that a text names; -1 for none.
func (c *talk) boxNamed(s string) int {
	if c.kit == nil {
		return -1
	}
	lines := boxLines(c)
	res := counts.Parse(s+": 1", c.request(lines, 0, question{})) // read as the key of one note
	if len(res.Items) != 1 || res.Problem != nil || res.Items[0].Notes != 1 {
		return -1
	}
	return res.Items[0].Line
}

func askSwapWhich(c *talk) *card {
	if len(c.boxes()) == 1 {
		swapBox(c, 0)
		return nil
	}
	return asking(either(c.State.Draft.Happened.IsZero(), "ask.swap", "ask.swapped"))(c)
}

func swapBoxes(c *talk) (list []option) {
	lines := boxLines(c)
	for i, l := range lines {
		list = append(list, option{label: c.lineName(lines, l), value: "line-" + strconv.Itoa(i),
			take: func(c *talk) { swapBox(c, i) }})
	}
	return list
}

// swapLine is the one box that is swapped.
func swapLine(c *talk) []line {
	lines := loadLines(c)
	for i, l := range lines {
		if c.chosen("box") == strconv.Itoa(i) {
			return []line{l}
		}
	}
	return lines[:1]
}

// swapCounts are the two counts of a swap.
func swapCounts(*talk) []question { return []question{oldQuestion, newQuestion} }

func readSwap(c *talk) []Block {
	l := swapLine(c)[0]
	out, in := oldQuestion.values(c)[0], newQuestion.values(c)[0]
	return []Block{{Text: c.v.Say("review.swap", "line", c.lineName(nil, l))}, columns(1, [][]string{
		{c.v.Say("taken-out"), c.v.Count("notes", out), c.v.Money(cashmath.Value(l.face, out))},
		{c.v.Say("put-in"), c.v.Count("notes", in), c.v.Money(cashmath.Value(l.face, in))},
	})}
}

func bookSwap(c *talk) {
	l := swapLine(c)[0]
	out, in := oldQuestion.values(c)[0], newQuestion.values(c)[0]
	r := books.Record{Kind: books.Swap, Period: c.target().No, Figures: []books.Figure{
		{Field: books.Left, Box: l.box, Face: l.face, Notes: out}, {Field: books.Added, Box: l.box, Face: l.face, Notes: in},
	}}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	diff := cashmath.Value(l.face, in-out)
	word := "swapped-more"
	switch {
	case diff.IsZero():
		word = "swapped-same"
	case diff.IsNegative():
		word = "swapped-less"
	}
	c.close(text(c.v.Say("swapped", "line", c.lineName(nil, l), "when", c.clock(c.when())),
		c.v.Say(word, "money", c.v.Money(diff.Abs())), c.lock()))
}
