package dialogs

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// cashFlow tells whether the shop's own cash lasts until the bank pays.
func cashFlow() *flow {
	return &flow{
		name: doCashPlan, title: "cash-plan", version: 1, start: startCash,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: answersAgain,
		paper: offPaper, loses: losesAnswers, stopped: nothingBooked,
		rights:   rights{access.Managing, anyPhone, onceSetUp},
		asks:     []asked{ownQuestion, takingsQuestion},
		commands: []command{{name: doCashPlan, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"own":     ownQuestion.screen(),
			"takings": takingsQuestion.screen(),
			"told":    {ask: tellCash},
		},
	}
}

var (
	ownQuestion = question{
		name: "own", lines: kindLines, none: true, partial: true, what: "what.own",
		next: func(*talk) string { return "takings" },
	}
	takingsQuestion = question{
		name: "takings", lines: kindLines, none: true, partial: true, what: "what.takings",
		next: func(*talk) string { return "told" },
		extra: func(c *talk) [][]Button {
			if line := c.learnedLine(); line != "" {
				return [][]Button{c.button("takings-learned", "learned", "counts", line)}
			}
			return nil
		},
		taps: map[string]func(*talk){"learned": takeLearned},
	}
)

func startCash(c *talk) {
	c.goTo("own")
	c.take(ownQuestion)
}

// learned is what moves between tills and safe say the tills bring.
func (c *talk) learned() map[cashmath.Face]int64 {
	past, err := advice.Learn(c.f.Shop, c.kit.ID, c.known())
	if err != nil {
		return nil
	}
	return past.Takings
}

func (c *talk) learnedLine() string {
	learned := c.learned()
	var parts []string
	for _, l := range kindLines(c) {
		if n := learned[l.face]; n > 0 {
			parts = append(parts, c.v.Count("notes-of", n, "kind", c.v.Kind(l.face)))
		}
	}
	return strings.Join(parts, ", ")
}

func takeLearned(c *talk) {
	learned := c.learned()
	v := make([]int64, 0, len(learned))
	for _, l := range kindLines(c) {
		v = append(v, learned[l.face])
	}
	c.put("takings", v)
}

// kindsOf gives the answers to a question about kinds of note.
func (c *talk) kindsOf(q question) map[cashmath.Face]int64 {
	notes := map[cashmath.Face]int64{}
	for i, n := range q.values(c) {
		notes[q.lines(c)[i].face] = max(n, 0)
	}
	return notes
}

func tellCash(c *talk) *card {
	o, _, err := c.outlook(c.loadDate())
	if err != nil {
		c.close(c.noAdvice(err).body...)
		return nil
	}
	plan, err := o.Cash(c.kindsOf(ownQuestion), c.kindsOf(takingsQuestion), c.m.Due())
	if err != nil {
		c.close(c.noAdvice(err).body...)
		return nil
	}
	lines := []string{c.v.Say("cash.head")}
	lines = append(lines, c.lasting(plan)...)
	lines = append(lines, c.orderLines(plan)...)
	c.close(text(append(lines, c.creditLines(plan)...)...))
	return nil
}

// lasting says of each kind how long it lasts.
func (c *talk) lasting(p advice.Plan) (out []string) {
	for _, l := range p.Lines {
		switch kind := c.v.Kind(l.Face); {
		case !l.Known:
			out = append(out, c.v.Say("cash.unknown", "kind", kind))
		case l.RunsOut == "":
			out = append(out, c.v.Say("cash.lasts", "kind", kind, "day", c.v.Day(p.Sight.Time())))
		default:
			out = append(out, c.v.Say("cash.runs-out", "kind", kind, "day", c.between(l.RunsOut, l.RunsOut)))
		}
	}
	return out
}

// orderLines say what to order by when, and which days the bank is closed meanwhile.
func (c *talk) orderLines(p advice.Plan) []string {
	if p.RunsOut == "" {
		return nil
	}
	var parts []string
	for _, l := range p.Lines {
		if l.Order > 0 {
			parts = append(parts, c.v.Count("notes-of", l.Order, "kind", c.v.Kind(l.Face)))
		}
	}
	fill := []any{"counts", strings.Join(parts, ", "), "money", c.v.Money(p.Value), "by", c.dayName(p.OrderBy),
		"fetch", c.dayName(p.Fetch), "through", c.v.Day(p.Through.Time()), "share", share(p.Share)}
	id := "cash.order"
	switch today := c.today(); {
	case p.Fetch < today:
		id = "cash.at-once"
	case p.OrderBy < today:
		id = "cash.fetch"
	case p.OrderBy == today:
		id = "cash.order-today"
	}
	return []string{c.v.Say(id, fill...), c.v.Say("cash.what", fill...), c.v.Say("cash.through", fill...)}
}

// dayName is a day by its name, today as such.
func (c *talk) dayName(d shop.Date) string { return c.between(d, d) }

// creditLines say what the bank owes meanwhile.
func (c *talk) creditLines(p advice.Plan) []string {
	until := p.Sight
	if p.Through != "" {
		until = p.Through
	}
	var out []string
	if p.Credits.IsPositive() {
		out = append(out, c.v.Say("cash.credits", "money", c.v.Money(p.Credits), "day", c.v.Day(until.Time())))
	}
	if p.Late.IsPositive() {
		out = append(out, c.v.Say("cash.late", "money", c.v.Money(p.Late)))
	}
	if p.Undated.IsPositive() {
		out = append(out, c.v.Say("cash.undated", "money", c.v.Money(p.Undated)))
	}
	return out
}
