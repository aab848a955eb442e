package dialogs

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
)

// lookBackDays is how far the chat looks back. Every day is forecast anew for each
// kind of note, and everybody else waits meanwhile.
const lookBackDays = 56

func backtestCommand() command {
	return command{name: doBacktest, rights: rights{access.Owning, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).backtest}
}

// backtest tells what the advice would have done on the shop's own past.
func (c *talk) backtest() {
	past, err := advice.Learn(c.f.Shop, c.kit.ID, c.known())
	if err != nil {
		c.send(Reply{Body: c.noAdvice(err).body})
		return
	}
	tested, err := advice.Backtest(c.f.Shop, c.kit, past, lookBackDays)
	if err != nil {
		c.send(Reply{Body: c.noAdvice(err).body})
		return
	}
	c.send(Reply{Body: c.lookedBack(tested)})
}

// way is one way of loading over all kinds of note.
type way struct {
	name         string
	days, ranOut int
	left         decimal.Decimal // worth of what was left over, a day
}

func (w *way) take(face cashmath.Face, t advice.Tally) {
	w.days, w.ranOut = w.days+t.Days, w.ranOut+t.RanOut
	w.left = w.left.Add(cashmath.Value(face, t.Left()))
}

func (c *talk) lookedBack(tested []advice.Tested) []Block {
	ways := []way{{name: "back.advised"}, {name: "back.loaded"}, {name: "back.weekly"}}
	from, to := tested[0].From, tested[0].To
	for _, t := range tested {
		ways[0].take(t.Face, t.Advised)
		ways[1].take(t.Face, t.Loaded)
		ways[2].take(t.Face, t.Weekly)
		if t.Loaded.Days > 0 {
			from, to = min(from, t.From), max(to, t.To)
		}
	}
	if ways[1].days == 0 {
		return []Block{{Text: c.v.Say("back.too-young")}}
	}
	rows := [][]string{{"", c.v.Say("col.ran-out"), c.v.Say("col.left-over")}}
	for _, w := range ways {
		ranOut := c.v.Say("back.of", "n", w.ranOut, "of", w.days)
		rows = append(rows, []string{c.v.Say(w.name), ranOut, c.v.Money(w.left)})
	}
	return []Block{
		{Text: c.v.Say("back.head", "from", c.v.Day(dayTime(from)), "to", c.v.Day(dayTime(to)))},
		columns(1, rows), text(c.v.Count("back.counts", int64(len(tested))), c.v.Say("back.weekly-is")),
	}
}
