package load

import (
	"slices"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// CashFlow tells whether the shop's own cash lasts until the bank pays.
func CashFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoCashPlan, Title: "cash-plan", Version: 1, Start: startCash,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: ask.LosesAnswers, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{ownQuestion, takingsQuestion},
		Commands: []engine.Command{
			{Name: engine.DoCashPlan, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{"own": ownQuestion.Screen(), "takings": takingsQuestion.Screen(),
			"told": {Ask: tellCash}},
	}
}

var (
	ownQuestion = ask.Question{
		Name: "own", Lines: ask.KindLines, None: true, Partial: true, What: "what.own",
		Next: func(*engine.Talk) string { return "takings" },
	}
	takingsQuestion = ask.Question{
		Name: "takings", Lines: ask.KindLines, None: true, Partial: true, What: "what.takings",
		Next: func(*engine.Talk) string { return "told" },
		Extra: func(c *engine.Talk) [][]chat.Button {
			if line := learnedLine(c); line != "" {
				return [][]chat.Button{c.Button("takings-learned", "learned", "counts", line)}
			}
			return nil
		},
		Taps: map[string]func(*engine.Talk){"learned": takeLearned},
	}
)

func startCash(c *engine.Talk) {
	c.GoTo("own")
	ask.Take(c, ownQuestion)
}

// learned is what moves between tills and safe say the tills bring.
func learned(c *engine.Talk) map[cashmath.Face]int64 {
	past, err := advice.Learn(c.F.Shop, c.Kit.ID, known(c))
	if err != nil {
		return nil
	}
	return past.Takings
}

func learnedLine(c *engine.Talk) string {
	learned, some := learned(c), books.Notes{}
	for _, l := range ask.KindLines(c) {
		if n := learned[l.Face]; n > 0 {
			some[l.Face] = n
		}
	}
	return ask.Notes(c, some)
}

func takeLearned(c *engine.Talk) {
	learned := learned(c)
	v := make([]int64, 0, len(learned))
	for _, l := range ask.KindLines(c) {
		v = append(v, learned[l.Face])
	}
	c.Put("takings", v)
}

// kindsOf gives the answers to a question about kinds of note.
func kindsOf(c *engine.Talk, q ask.Question) map[cashmath.Face]int64 {
	notes := map[cashmath.Face]int64{}
	for i, n := range q.Values(c) {
		notes[q.Lines(c)[i].Face] = max(n, 0)
	}
	return notes
}

func tellCash(c *engine.Talk) *engine.Card {
	o, _, err := outlook(c, loadDate(c))
	var plan advice.Plan
	if err == nil {
		plan, err = o.Cash(kindsOf(c, ownQuestion), kindsOf(c, takingsQuestion), c.M.Due())
	}
	if err != nil {
		c.Close(noAdvice(c, err).Body...)
		return nil
	}
	c.Close(engine.Text(slices.Concat([]string{c.V.Say("cash.head")}, lasting(c, plan), orderLines(c, plan),
		creditLines(c, plan))...))
	return nil
}

// lasting says of each kind how long it lasts.
func lasting(c *engine.Talk, p advice.Plan) (out []string) {
	for _, l := range p.Lines {
		switch kind := c.V.Kind(l.Face); {
		case !l.Known:
			out = append(out, c.V.Say("cash.unknown", "kind", kind))
		case l.RunsOut == "":
			out = append(out, c.V.Say("cash.lasts", "kind", kind, "day", c.V.Day(p.Sight.Time())))
		default:
			out = append(out, c.V.Say("cash.runs-out", "kind", kind, "day", dayName(c, l.RunsOut)))
		}
	}
	return out
}

// orderLines say what to order by when, and which days the bank is closed meanwhile.
func orderLines(c *engine.Talk, p advice.Plan) []string {
	if p.RunsOut == "" {
		return nil
	}
	order := books.Notes{}
	for _, l := range p.Lines {
		if l.Order > 0 {
			order[l.Face] = l.Order
		}
	}
	fill := []any{"counts", ask.Notes(c, order), "money", c.V.Money(p.Value), "by", dayName(c, p.OrderBy),
		"fetch", dayName(c, p.Fetch), "through", c.V.Day(p.Through.Time()), "share", share(p.Share)}
	id := "cash.order"
	switch today := c.Today(); {
	case p.Fetch < today:
		id = "cash.at-once"
	case p.OrderBy < today:
		id = "cash.fetch"
	case p.OrderBy == today:
		id = "cash.order-today"
	}
	return []string{c.V.Say(id, fill...), c.V.Say("cash.what", fill...), c.V.Say("cash.through", fill...)}
}

// dayName is a day by its name, today as such.
func dayName(c *engine.Talk, d shop.Date) string { return ask.Between(c, d, d) }

// creditLines say what the bank owes meanwhile.
func creditLines(c *engine.Talk, p advice.Plan) []string {
	until := p.Sight
	if p.Through != "" {
		until = p.Through
	}
	var out []string
	if p.Credits.IsPositive() {
		out = append(out, c.V.Say("cash.credits", "money", c.V.Money(p.Credits), "day", c.V.Day(until.Time())))
	}
	if p.Late.IsPositive() {
		out = append(out, c.V.Say("cash.late", "money", c.V.Money(p.Late)))
	}
	if p.Undated.IsPositive() {
		out = append(out, c.V.Say("cash.undated", "money", c.V.Money(p.Undated)))
	}
	return out
}
