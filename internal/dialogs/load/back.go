package load

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

// lookBackDays is how far the chat looks back. Every day is forecast anew for each
// kind of note, and everybody else waits meanwhile.
const lookBackDays = 56

// BacktestCommand tells owners what the advice would have done.
func BacktestCommand() engine.Command {
	return engine.Command{Name: engine.DoBacktest,
		Rights: engine.May(access.Owning, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Run: backtest}
}

// backtest tells what the advice would have done on the shop's own past.
func backtest(c *engine.Talk) {
	past, err := advice.Learn(c.F.Shop, c.Kit.ID, known(c))
	var tested []advice.Tested
	if err == nil {
		tested, err = advice.Backtest(c.F.Shop, c.Kit, past, lookBackDays)
	}
	if err != nil {
		c.Send(chat.Reply{Body: noAdvice(c, err).Body})
		return
	}
	c.Send(chat.Reply{Body: lookedBack(c, tested)})
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

func lookedBack(c *engine.Talk, tested []advice.Tested) []chat.Block {
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
		return []chat.Block{{Text: c.V.Say("back.too-young")}}
	}
	rows := [][]string{{"", c.V.Say("col.ran-out"), c.V.Say("col.left-over")}}
	for _, w := range ways {
		ranOut := c.V.Say("back.of", "n", w.ranOut, "of", w.days)
		rows = append(rows, []string{c.V.Say(w.name), ranOut, c.V.Money(w.left)})
	}
	return []chat.Block{
		{Text: c.V.Say("back.head", "from", c.V.Day(dayTime(from)), "to", c.V.Day(dayTime(to)))},
		engine.Columns(1, rows),
		engine.Text(c.V.Count("back.counts", int64(len(tested))), c.V.Say("back.weekly-is"))}
}
