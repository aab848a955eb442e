package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// StatusCommand tells how things stand.
func StatusCommand() engine.Command {
	return engine.Command{Name: engine.DoStatus, Menu: 6, Run: here(func(c *engine.Talk) {
		c.Send(telling.Status(c.Teller, ask.BoxLines(c), c.State.Draft.Happened))
	}),
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpOften, Takes: engine.OnlyFigures}
}
