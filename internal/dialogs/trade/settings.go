package trade

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

// TellSettings tells the managers, without a sound, what was laid down anew.
func TellSettings(c *engine.Talk, what string) {
	c.TellManagers(chat.Reply{Silent: true,
		Body: []chat.Block{{Text: c.V.Say("told.settings", "who", c.F.Person.Name, "what", what)}}})
}
