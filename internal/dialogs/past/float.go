package past

import (
	"shopfloat/internal/bygone"
	"shopfloat/internal/dialogs/engine"
)

// FloatCommand shows where the money is: float, float 30 november.
func FloatCommand() engine.Command {
	return looksBack(engine.DoFloat, func(c *engine.Talk) { c.Send(bygone.Float(c.Teller, c.Rest)) })
}
