package dialogs

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

func openingFlow() *flow {
	return &flow{
		name: doOpen, title: "opening", version: 1, start: startOpening,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: anyDay, part: 1, loses: losesCounts, stopped: countStays,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		asks:   []asked{insideQuestion, insideTrayQuestion, loadedQuestion},
		commands: []command{{name: doOpen, does: startsDialog, help: helpOften, takes: onlyFigures, menu: 1,
			offer: "start-opening", guided: true}},
		screens: map[string]screen{
			"already":     {ask: askAlready, taps: map[string]func(*talk){"topup": (*talk).insteadTopUp, "close": (*talk).insteadClose}, what: "what.already"},
			"inside":      blind(insideQuestion.screen()),
			"inside-tray": blind(insideTrayQuestion.screen()),
			"loaded":      loadedQuestion.screen(),
			"review": booking{read: readOpening, over: overOpening, book: confirmOpening,
				answer: typedCounts(openingCounts), other: changes(goBack("change"))}.screen(),
			"change": changing{options: openingLines, answer: typedCounts(openingCounts), back: "loaded"}.screen(),
			"whose":  whose(openingCounts),
		},
	}
}

// loadedQuestion asks what was put into the boxes.
var loadedQuestion = question{
	name: "loaded", lines: loadLines, intro: "before-opening", check: checkLoad, what: "what.loaded",
	before: nowIn, next: func(*talk) string { return "review" },
	extra: func(c *talk) [][]Button { return c.advising().button(c) },
	taps:  map[string]func(*talk){"why": func(c *talk) { c.advising().why(c) }},
}

// loadLines are the boxes with what this shop usually loads.
func loadLines(c *talk) []line {
	lines := c.linesOf(c.kit.Boxes) // a change of boxes holds from an opening on
	for i := range lines {
		lines[i].usual = c.kit.Boxes[i].Usual
		if n, openings := c.m.Usual(lines[i].box, lines[i].face); openings >= enoughOpenings {
			lines[i].usual = n
		}
	}
	return lines
}

// enoughOpenings is how many openings tell what is usual better than the settings do.
const enoughOpenings = 3

func startOpening(c *talk) {
	if c.held() {
		return
	}
	cur := c.m.Current()
	switch {
	case cur == nil || c.backfills(cur):
		c.goTo("loaded")
		c.advising().advise(c)
	case sameDay(c.local(cur.Opened), c.local(c.in.At)):
		c.choose("rest", c.rest)
		c.goTo("already")
		return
	default:
		c.State.Draft.Period = cur.No
		c.choose("day", c.v.Day(c.local(cur.Opened)))
		c.goTo("inside")
	}
	c.take(loadedQuestion)
}

// backfills reports whether what is told now happened before a period began,
// so that it needs a period of its own.
func (c *talk) backfills(cur *books.Period) bool {
	return !c.State.Draft.Happened.IsZero() && c.State.Draft.Happened.Before(cur.Opened)
}

// take reads counts that came with the command.
func (c *talk) take(q question) {
	if c.rest == "" {
		return
	}
	if !q.answer(c, c.rest) {
		c.first(c.v.Say("not-counts", "near", c.rest))
	}
}

func askAlready(c *talk) *card {
	cur := c.m.Current()
	if cur == nil {
		c.goTo("loaded")
		return nil
	}
	k := &card{body: []Block{{Text: c.v.Say("already", "when", c.clock(cur.Opened), "who", c.name(cur.By))}}}
	k.buttons = [][]Button{c.button("instead-topup", "topup"), c.button("instead-close", "close")}
	return k
}

// The counts typed for an opening may be those of a top-up; of a closing they are none.
func (c *talk) insteadTopUp() { c.instead(doTopUp, c.chosen("rest"), startTopUp) }
func (c *talk) insteadClose() { c.instead(doClose, "", c.e.flows[doClose].start) }

// instead goes over to another dialog with counts that were typed.
func (c *talk) instead(flow, rest string, start func(*talk)) {
	c.enter(flow)
	c.rest = rest
	start(c)
}

// readOpening reads an opening back. Where another period is open by now there
// is nothing to open.
func readOpening(c *talk) []Block {
	if cur := c.m.Current(); cur != nil && cur.No != c.State.Draft.Period && !c.backfills(cur) {
		c.goTo("already")
		return nil
	}
	lines := loadLines(c)
	table, total := c.countTable(lines, loadedQuestion.values(c))
	var body []Block
	if c.chosen("cautioned") == "" && c.State.Draft.Happened.IsZero() {
		body = append(body, Block{Text: c.v.Say("before-opening-short")})
	}
	if c.early() {
		body = append(append(body, c.insideReview()...), Block{Text: c.v.Say("review.loaded")}, table)
	} else {
		body = append(body, Block{Text: c.v.Count("review.opening", int64(len(lines)))}, table)
	}
	return append(body, c.nearLimits(lines, loadedQuestion.values(c), total)...)
}

func overOpening(c *talk) string {
	_, total := c.countTable(loadLines(c), loadedQuestion.values(c))
	return c.overLimit(total)
}

// overLimit says that a total is above the most cash allowed inside; empty where it is not.
func (c *talk) overLimit(total decimal.Decimal) string {
	if !c.over(total) {
		return ""
	}
	return c.v.Say("over-limit", "limit", c.v.Money(c.f.Shop.Limit),
		"over", c.v.Money(total.Sub(c.f.Shop.Limit)))
}

// over reports whether a total is above the most cash allowed inside.
func (c *talk) over(total decimal.Decimal) bool {
	return c.f.Shop.Limit.IsPositive() && total.GreaterThan(c.f.Shop.Limit)
}

// nearLimits tells the share of capacity and of the limit, only when near.
func (c *talk) nearLimits(lines []line, v []int64, total decimal.Decimal) []Block {
	var out []string
	for i, l := range lines {
		if v[i]*100 >= l.capacity*nearPercent {
			out = append(out, c.v.Say("near-capacity", "line", c.lineName(lines, l),
				"percent", v[i]*100/l.capacity, "capacity", c.v.Number(l.capacity)))
		}
	}
	limit := c.f.Shop.Limit
	if limit.IsPositive() && !c.over(total) && total.Mul(decimal.NewFromInt(100)).GreaterThanOrEqual(limit.Mul(decimal.NewFromInt(nearPercent))) {
		percent := total.Mul(decimal.NewFromInt(100)).Div(limit).IntPart()
		out = append(out, c.v.Say("near-limit", "percent", percent, "limit", c.v.Money(limit)))
	}
	if len(out) == 0 {
		return nil
	}
	return []Block{text(out...)}
}

// nearPercent is the share from which capacity and limit are mentioned.
const nearPercent = 90

// boxFigures turns the counts of a question about boxes into figures.
func boxFigures(field books.Field, lines []line, v []int64, zeros bool) []books.Figure {
	var figs []books.Figure
	for i, l := range lines {
		if v[i] > 0 || zeros && v[i] == 0 {
			figs = append(figs, books.Figure{Field: field, Box: l.box, Face: l.face, Notes: v[i]})
		}
	}
	return figs
}

func confirmOpening(c *talk) {
	if c.held() {
		return
	}
	lines, v := loadLines(c), loadedQuestion.values(c)
	opening := books.Record{Kind: books.Opening, Figures: boxFigures(books.Loaded, lines, v, true), Ticks: c.ticks()}
	early := c.State.Draft.Period
	if cur := c.m.Current(); cur != nil && early == 0 {
		opening.Marks = append(opening.Marks, books.Paper)
	}
	if !c.State.Draft.Happened.IsZero() {
		opening.Ticks = nil // nobody can tick today what was done then
	}
	if early != 0 {
		if err := c.countEarly(early); err != nil {
			c.refuse(err)
			return
		}
	}
	entry, err := c.record(opening)
	if err != nil {
		c.refuse(err)
		return
	}
	_, total := c.countTable(lines, v)
	head := c.v.Count("opened", sum(v), "when", c.clock(c.when()), "money", c.v.Money(total))
	if len(opening.Ticks) == 0 {
		c.close(text(head, c.v.Say("paper-next")))
		return
	}
	c.askTicks(c.m.Period(entry.Seq), head)
	if early != 0 {
		c.managers(text(c.v.Say("told.not-closed", "day", c.v.Day(c.local(c.m.Period(early).Opened)), "who", c.f.Person.Name)))
	}
}

// countEarly counts what yesterday left, so that today can begin. Its printed
// figures stay an open task.
func (c *talk) countEarly(no int64) error {
	r := books.Record{Kind: books.Count, Period: no, Marks: []books.Mark{books.Early}}
	r.Figures = boxFigures(books.Remaining, boxLines(c), insideQuestion.values(c), true)
	if c.chosen("no-tray") != "" {
		r.Marks = append(r.Marks, books.NoTray)
	} else {
		r.Figures = append(r.Figures, boxFigures(books.Refused, kindLines(c), insideTrayQuestion.values(c), false)...)
	}
	_, err := c.record(r)
	return err
}

// refuse says that the books do not take a record, and why; nothing of it is written.
func (c *talk) refuse(err error) {
	c.Records = nil
	c.m = c.f.Machine
	c.first(c.refusal(err))
}
