package counsel

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

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

// lookBackDays is how far the chat looks back. Every day is forecast anew for each
// kind of note, and everybody else waits meanwhile.
const lookBackDays = 56

// Backtest tells what the advice would have done on the shop's own past.
func Backtest(t *telling.Teller) []chat.Block {
	past, err := Learn(t)
	var tested []advice.Tested
	if err == nil {
		tested, err = advice.Backtest(t.F.Shop, t.Kit, past, lookBackDays)
	}
	if err != nil {
		return None(t, err)
	}
	return LookedBack(t, tested)
}

// LookedBack tells what an advice would have done on the shop's own past.
func LookedBack(t *telling.Teller, tested []advice.Tested) []chat.Block {
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
		return []chat.Block{{Text: t.V.Say("back.too-young")}}
	}
	rows := [][]string{{"", t.V.Say("col.ran-out"), t.V.Say("col.left-over")}}
	for _, w := range ways {
		ranOut := t.V.Say("back.of", "n", w.ranOut, "of", w.days)
		rows = append(rows, []string{t.V.Say(w.name), ranOut, t.V.Money(w.left)})
	}
	return []chat.Block{
		{Text: t.V.Say("back.head", "from", t.V.Day(dayTime(from)), "to", t.V.Day(dayTime(to)))},
		chat.Columns(1, rows),
		chat.Lines(t.V.Count("back.counts", int64(len(tested))), t.V.Say("back.weekly-is"))}
}
