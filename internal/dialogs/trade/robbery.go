package trade

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

// Hushed leaves of what a deadline says only what a manager is to hear of the
// robbery itself.
func Hushed(c *engine.Talk, fault bool) {
	c.Replies = slices.DeleteFunc(c.Replies, func(r chat.Reply) bool {
		p, ok := c.F.Shop.Person(r.To.Person)
		return !fault || !ok || !engine.Manages(p)
	})
}
