package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/bygone"
	"shopfloat/internal/dialogs/engine"
)

// HistoryCommand shows the last records, or those of a past day.
func HistoryCommand() engine.Command {
	return engine.Command{Name: engine.DoHistory, Menu: 11, Run: here(history),
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpMore, Takes: engine.OnlyFigures}
}

func history(c *engine.Talk) {
	if c.Rest == "" {
		c.Say(bygone.History(c.Teller))
		return
	}
	c.Say(bygone.HistoryOf(c.Teller, c.Rest))
}
