package dialogs

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

func openingFlow() *flow {
	return &flow{
		name: "open", title: "opening", open: true,
		start: startOpening,
		screens: map[string]screen{
			"already":     {ask: askAlready, taps: map[string]func(*talk){"topup": (*talk).insteadTopUp, "close": (*talk).insteadClose}, what: "what.already"},
			"inside":      insideQuestion.screen(),
			"inside-tray": insideTrayQuestion.screen(),
			"loaded":      loadedQuestion.screen(),
			"review":      openingReview(),
			"change":      openingChange(),
			"whose":       whoseScreen(),
		},
	}
}

// loadedQuestion asks what was put into the boxes.
var loadedQuestion = question{
	name: "loaded", lines: loadLines, intro: "before-opening", check: checkLoad, what: "what.loaded",
	before: nowIn, next: func(*talk) string { return "review" },
	extra: withWhy, taps: map[string]func(*talk){"why": openingWhy},
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
		c.adviseOpening()
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

func (c *talk) insteadTopUp() { c.instead("topup", startTopUp) }
func (c *talk) insteadClose() { c.rest = ""; c.instead("close", startClosing) }

// instead goes over to another dialog with the counts that were typed.
func (c *talk) instead(flow string, start func(*talk)) {
	rest := c.chosen("rest")
	c.enter(flow)
	if c.rest = rest; flow == "close" {
		c.rest = ""
	}
	start(c)
}

// review makes a screen that reads everything back: Confirm books it, Change
// opens a line, and typed counts change lines at once.
func review(question string, ask func(*talk) *card, confirm func(*talk)) screen {
	return screen{
		ask: ask, what: "what.review",
		answer: func(c *talk, s string) bool {
			if !questions()[question].answer(c, s) {
				return false
			}
			c.goTo(question)
			return true
		},
		taps: map[string]func(*talk){
			"confirm": func(c *talk) {
				if !c.overtaken() {
					confirm(c)
				}
			},
			"change": func(c *talk) { c.goTo("change") },
		},
	}
}

// overtaken reports whether somebody recorded something since the card was
// shown; the card is then shown again with the new figures.
func (c *talk) overtaken() bool {
	last, ok := c.lastSince(c.State.Draft.Seq)
	if !ok {
		return false
	}
	c.first(c.v.Say("overtaken", "who", c.name(last.By), "what", c.v.Say("kind."+string(last.Kind)),
		"when", c.clock(last.Recorded)))
	return true
}

// lastSince gives the newest record after one, those left aside that change
// nothing anybody relies on.
func (c *talk) lastSince(seq int64) (last books.Brief, ok bool) {
	for _, b := range slices.Backward(c.m.Recent) {
		if b.Seq <= seq {
			break
		}
		if !slices.Contains(beside, b.Kind) {
			return b, true
		}
	}
	return last, false
}

// changeLine makes a screen that offers the lines of a question to change.
func changeLine(q question, back string) screen {
	return screen{
		ask: func(c *talk) *card {
			lines, v := q.lines(c), q.values(c)
			k := &card{body: []Block{{Text: c.v.Say("change-which")}}}
			for i, l := range lines {
				k.buttons = append(k.buttons, []Button{{
					c.v.Say("button.line", "line", c.lineName(lines, l), "n", c.v.Number(max(v[i], 0))),
					"line-" + itoa(i),
				}})
			}
			k.buttons = append(k.buttons, c.button("back", "back"))
			return k
		},
		answer: func(c *talk, s string) bool {
			if !q.answer(c, s) {
				return false
			}
			c.goTo(back)
			return true
		},
		taps: map[string]func(*talk){"back": func(c *talk) { c.goTo(back) }},
		tap: func(c *talk, choice string) bool {
			if !strings.HasPrefix(choice, "line-") || !q.pick(c, choice) {
				return false
			}
			c.goTo(back)
			return true
		},
		what: "what.change",
	}
}

func askOpeningReview(c *talk) *card {
	if cur := c.m.Current(); cur != nil && cur.No != c.State.Draft.Period && !c.backfills(cur) {
		c.goTo("already")
		return nil
	}
	lines := loadLines(c)
	table, total := c.countTable(lines, loadedQuestion.values(c))
	k := &card{}
	if c.chosen("cautioned") == "" && c.State.Draft.Happened.IsZero() {
		k.body = append(k.body, Block{Text: c.v.Say("before-opening-short")})
	}
	if c.early() {
		k.body = append(append(k.body, c.insideReview()...), Block{Text: c.v.Say("review.loaded")}, table)
	} else {
		k.body = append(k.body, Block{Text: c.v.Count("review.opening", int64(len(lines)))}, table)
	}
	k.body = append(k.body, c.nearLimits(lines, loadedQuestion.values(c), total)...)
	if c.over(total) {
		k.body = append(k.body, Block{Text: c.v.Say("over-limit", "limit", c.v.Money(c.f.Shop.Limit),
			"over", c.v.Money(total.Sub(c.f.Shop.Limit)))})
		k.buttons = [][]Button{c.button("change", "change"), c.button("confirm-over", "confirm")}
		return k
	}
	k.body = append(k.body, Block{Text: c.v.Say("right")})
	k.buttons = [][]Button{c.button("confirm", "confirm"), c.button("change", "change")}
	return k
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
