package trade

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// Held ends an opening while the machine must not be loaded, and says why. What
// happened before the hold can still be entered.
func Held(c *engine.Talk) bool {
	h := c.F.Shop.Plan.Hold
	if h == nil || c.When().Before(h.At) {
		return false
	}
	old := c.Key()
	c.End()
	c.InPlace(old, chat.Reply{Key: c.Key(),
		Body: []chat.Block{chat.Lines(append(telling.HoldLines(c.Teller, *h), c.V.Say("hold.stop"))...)}})
	if c.F.Person.Role.Manages() {
		c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("hold.lift-ask")}}, Key: telling.HoldKey,
			Buttons: telling.LiftButton(c.Teller)})
	}
	return true
}
