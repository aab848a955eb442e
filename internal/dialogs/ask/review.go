package ask

import (
	"shopfloat/internal/dialogs/engine"
)

// Take reads counts that came with the command.
func Take(c *engine.Talk, q Question) {
	if c.Rest == "" {
		return
	}
	if !q.Answer(c, c.Rest) {
		c.First(c.V.Say("not-counts", "near", c.Rest))
	}
}
