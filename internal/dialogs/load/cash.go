package load

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/books"
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
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: ask.LosesAnswers, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{ownQuestion, takingsQuestion},
		Commands: []engine.Command{{Name: engine.DoCashPlan, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.AnyWords}},
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
		Next:  func(*engine.Talk) string { return "told" },
		Extra: learnedTakings,
		Taps:  map[string]func(*engine.Talk){"learned": func(c *engine.Talk) { c.Put("takings", learned(c)) }},
	}
)

func startCash(c *engine.Talk) {
	c.GoTo("own")
	ask.Take(c, ownQuestion)
}

// learned is what moves between tills and safe say the tills bring, in the order
// of the lines.
func learned(c *engine.Talk) []int64 {
	v := make([]int64, len(ask.KindLines(c)))
	past, err := learn(c)
	for i, l := range ask.KindLines(c) {
		if err == nil {
			v[i] = past.Takings[l.Face]
		}
	}
	return v
}

// learnedTakings offers it, as far as it is anything.
func learnedTakings(c *engine.Talk) [][]chat.Button {
	some := books.Notes{}
	for i, n := range learned(c) {
		if n > 0 {
			some[ask.KindLines(c)[i].Face] = n
		}
	}
	if len(some) == 0 {
		return nil
	}
	return [][]chat.Button{c.Button("takings-learned", "learned", "counts", ask.Notes(c, some))}
}

func tellCash(c *engine.Talk) *engine.Card {
	o, err := outlook(c, loadDate(c))
	var plan advice.Plan
	if err == nil {
		plan, err = o.Cash(ownQuestion.Notes(c), takingsQuestion.Notes(c), c.M.Due())
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
func creditLines(c *engine.Talk, p advice.Plan) (out []string) {
	until := p.Sight
	if p.Through != "" {
		until = p.Through
	}
	say := func(id string, sum decimal.Decimal) {
		if sum.IsPositive() {
			out = append(out, c.V.Say(id, "money", c.V.Money(sum), "day", c.V.Day(until.Time())))
		}
	}
	say("cash.credits", p.Credits)
	say("cash.late", p.Late)
	say("cash.undated", p.Undated)
	return out
}
