package load

import (
	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/counsel"
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
	past, err := counsel.Learn(c.Teller)
	var tested []advice.Tested
	if err == nil {
		tested, err = advice.Backtest(c.F.Shop, c.Kit, past, lookBackDays)
	}
	if err != nil {
		c.Send(chat.Reply{Body: counsel.None(c.Teller, err)})
		return
	}
	c.Send(chat.Reply{Body: counsel.LookedBack(c.Teller, tested)})
}
