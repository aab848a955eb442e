package trouble

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
)

// injury reports whether an input speaks of somebody who is hurt.
func injury(c *engine.Talk) bool {
	if c.In.Kind == chat.Secret {
		return c.In.Text == chat.Hurt
	}
	return guides.Injury(c.In.Text)
}

// firstAid answers words of an injury: one message, nothing is asked, nothing is
// put on record, and whatever was under way stays as it is.
func firstAid(c *engine.Talk) {
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.State.Last = c.In.At
	number := guides.EmergencyNumber(c.F.Shop.Country)
	c.Say(c.V.Say("hurt", "number", number))
}
