package day

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

func OpeningFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoOpen, Title: "opening", Version: 1, Start: startOpening,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.AnyDay, Part: 1, Loses: engine.LosesCounts, Stopped: ask.CountStays,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{insideQuestion, insideTrayQuestion, loadedQuestion},
		Commands: []engine.Command{
			{
				Name:   engine.DoOpen,
				Does:   engine.StartsDialog,
				Help:   engine.HelpOften,
				Takes:  engine.OnlyFigures,
				Menu:   1,
				Offer:  "start-opening",
				Guided: true,
			},
		},
		Screens: map[string]engine.Screen{
			"already": {Ask: askAlready,
				Taps: map[string]func(*engine.Talk){"topup": insteadTopUp, "close": insteadClose}, What: "what.already"},
			"inside":      ask.Blind(insideQuestion.Screen()),
			"inside-tray": ask.Blind(insideTrayQuestion.Screen()),
			"loaded":      loadedQuestion.Screen(),
			"review": ask.Booking{Read: readOpening, Over: overOpening, Book: confirmOpening,
				Answer: ask.TypedCounts(openingCounts), Other: ask.Changes(engine.GoBack("change"))}.Screen(),
			"change": ask.Changing{Options: openingLines, Answer: ask.TypedCounts(openingCounts),
				Back: "loaded"}.Screen(),
			"whose": ask.Whose(openingCounts),
		},
	}
}

// loadedQuestion asks what was put into the boxes.
var loadedQuestion = ask.Question{
	Name: "loaded", Lines: loadLines, Intro: "before-opening", Check: ask.CheckLoad, What: "what.loaded",
	Before: nowIn, Next: func(*engine.Talk) string { return "review" },
	Extra: func(c *engine.Talk) [][]chat.Button { return c.E.Advice.Button(c) },
	Taps:  map[string]func(*engine.Talk){"why": func(c *engine.Talk) { c.E.Advice.Why(c) }},
}

// loadLines are the boxes with what this shop usually loads.
func loadLines(c *engine.Talk) []ask.Line {
	lines := ask.LinesOf(c, c.Kit.Boxes) // a change of boxes holds from an opening on
	for i := range lines {
		lines[i].Usual = c.Kit.Boxes[i].Usual
		if n, openings := c.M.Usual(lines[i].Box, lines[i].Face); openings >= enoughOpenings {
			lines[i].Usual = n
		}
	}
	return lines
}

// enoughOpenings is how many openings tell what is usual better than the settings do.
const enoughOpenings = 3

func startOpening(c *engine.Talk) {
	if trade.Held(c) {
		return
	}
	cur := c.M.Current()
	switch {
	case cur == nil || backfills(c, cur):
		c.GoTo("loaded")
		c.E.Advice.Advise(c)
	case engine.SameDay(c.Local(cur.Opened), c.Local(c.In.At)):
		c.Choose("rest", c.Rest)
		c.GoTo("already")
		return
	default:
		c.State.Draft.Period = cur.No
		c.Choose("day", c.V.Day(c.Local(cur.Opened)))
		c.GoTo("inside")
	}
	ask.Take(c, loadedQuestion)
}

// backfills reports whether what is told now happened before a period began,
// so that it needs a period of its own.
func backfills(c *engine.Talk, cur *books.Period) bool {
	return !c.State.Draft.Happened.IsZero() && c.State.Draft.Happened.Before(cur.Opened)
}

func askAlready(c *engine.Talk) *engine.Card {
	cur := c.M.Current()
	if cur == nil {
		c.GoTo("loaded")
		return nil
	}
	k := &engine.Card{
		Body: []chat.Block{{Text: c.V.Say("already", "when", c.Clock(cur.Opened), "who", c.Name(cur.By))}}}
	k.Buttons = [][]chat.Button{c.Button("instead-topup", "topup"), c.Button("instead-close", "close")}
	return k
}

// The counts typed for an opening may be those of a top-up; of a closing they are none.
func insteadTopUp(c *engine.Talk) { instead(c, engine.DoTopUp, c.Chosen("rest"), startTopUp) }
func insteadClose(c *engine.Talk) { instead(c, engine.DoClose, "", c.E.Flows[engine.DoClose].Start) }

// instead goes over to another dialog with counts that were typed.
func instead(c *engine.Talk, flow, rest string, start func(*engine.Talk)) {
	c.Enter(flow)
	c.Rest = rest
	start(c)
}

// readOpening reads an opening back. Where another period is open by now there
// is nothing to open.
func readOpening(c *engine.Talk) []chat.Block {
	if cur := c.M.Current(); cur != nil && cur.No != c.State.Draft.Period && !backfills(c, cur) {
		c.GoTo("already")
		return nil
	}
	lines := loadLines(c)
	table, total := ask.CountTable(c, lines, loadedQuestion.Values(c))
	var body []chat.Block
	if c.Chosen("cautioned") == "" && c.State.Draft.Happened.IsZero() {
		body = append(body, chat.Block{Text: c.V.Say("before-opening-short")})
	}
	if early(c) {
		body = append(append(body, insideReview(c)...), chat.Block{Text: c.V.Say("review.loaded")}, table)
	} else {
		body = append(body, chat.Block{Text: c.V.Count("review.opening", int64(len(lines)))}, table)
	}
	return append(body, nearLimits(c, lines, loadedQuestion.Values(c), total)...)
}

func overOpening(c *engine.Talk) string {
	_, total := ask.CountTable(c, loadLines(c), loadedQuestion.Values(c))
	return overLimit(c, total)
}

// overLimit says that a total is above the most cash allowed inside; empty where it is not.
func overLimit(c *engine.Talk, total decimal.Decimal) string {
	if !over(c, total) {
		return ""
	}
	return c.V.Say("over-limit", "limit", c.V.Money(c.F.Shop.Limit),
		"over", c.V.Money(total.Sub(c.F.Shop.Limit)))
}

// over reports whether a total is above the most cash allowed inside.
func over(c *engine.Talk, total decimal.Decimal) bool {
	return c.F.Shop.Limit.IsPositive() && total.GreaterThan(c.F.Shop.Limit)
}

// nearLimits tells the share of capacity and of the limit, only when near.
func nearLimits(c *engine.Talk, lines []ask.Line, v []int64, total decimal.Decimal) []chat.Block {
	var out []string
	for i, l := range lines {
		if v[i]*100 >= l.Capacity*nearPercent {
			out = append(out, c.V.Say("near-capacity", "line", ask.LineName(c, lines, l),
				"percent", v[i]*100/l.Capacity, "capacity", c.V.Number(l.Capacity)))
		}
	}
	limit := c.F.Shop.Limit
	if limit.IsPositive() && !over(c, total) &&
		total.Mul(decimal.NewFromInt(100)).GreaterThanOrEqual(limit.Mul(decimal.NewFromInt(nearPercent))) {
		percent := total.Mul(decimal.NewFromInt(100)).Div(limit).IntPart()
		out = append(out, c.V.Say("near-limit", "percent", percent, "limit", c.V.Money(limit)))
	}
	if len(out) == 0 {
		return nil
	}
	return []chat.Block{engine.Text(out...)}
}

// nearPercent is the share from which capacity and limit are mentioned.
const nearPercent = 90

func confirmOpening(c *engine.Talk) {
	if trade.Held(c) {
		return
	}
	lines, v := loadLines(c), loadedQuestion.Values(c)
	opening := books.Record{Kind: books.Opening, Figures: ask.BoxFigures(books.Loaded, lines, v, true),
		Ticks: ticks(c)}
	early := c.State.Draft.Period
	if cur := c.M.Current(); cur != nil && early == 0 {
		opening.Marks = append(opening.Marks, books.Paper)
	}
	if !c.State.Draft.Happened.IsZero() {
		opening.Ticks = nil // nobody can tick today what was done then
	}
	if early != 0 {
		if err := countEarly(c, early); err != nil {
			c.Refuse(err)
			return
		}
	}
	entry, err := c.Record(opening)
	if err != nil {
		c.Refuse(err)
		return
	}
	_, total := ask.CountTable(c, lines, v)
	head := c.V.Count("opened", ask.Sum(v), "when", c.Clock(c.When()), "money", c.V.Money(total))
	if len(opening.Ticks) == 0 {
		c.Close(engine.Text(head, c.V.Say("paper-next")))
		return
	}
	trade.AskTicks(c, c.M.Period(entry.Seq), head)
	if early != 0 {
		c.Managers(
			engine.Text(
				c.V.Say("told.not-closed", "day", c.V.Day(c.Local(c.M.Period(early).Opened)), "who", c.F.Person.Name)),
		)
	}
}

// countEarly counts what yesterday left, so that today can begin. Its printed
// figures stay an open task.
func countEarly(c *engine.Talk, no int64) error {
	r := books.Record{Kind: books.Count, Period: no, Marks: []books.Mark{books.Early}}
	r.Figures = ask.BoxFigures(books.Remaining, ask.BoxLines(c), insideQuestion.Values(c), true)
	if c.Chosen("no-tray") != "" {
		r.Marks = append(r.Marks, books.NoTray)
	} else {
		r.Figures = append(r.Figures, ask.BoxFigures(books.Refused, ask.KindLines(c),
			insideTrayQuestion.Values(c), false)...)
	}
	_, err := c.Record(r)
	return err
}
