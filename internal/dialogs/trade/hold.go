package trade

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// HoldLines say what a hold is about.
func HoldLines(c *engine.Talk, h shop.Hold) []string {
	lines := []string{c.V.Say("hold.head")}
	if h.Until != "" {
		lines[0] = c.V.Say("hold.until", "day", c.V.Day(h.Until.Time()))
	}
	if h.Why != "" {
		lines = append(lines, c.V.Say("hold.why", "why", h.Why))
	}
	return append(lines, c.V.Say("hold.by", "who", c.Name(h.By)))
}

// LiftButton lifts a hold.
func LiftButton(c *engine.Talk) [][]chat.Button {
	return [][]chat.Button{c.Button("lift", "o:lift:hold")}
}

// HoldKey names the card from which a hold is lifted.
const HoldKey = "hold"

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
		Body: []chat.Block{engine.Text(append(HoldLines(c, *h), c.V.Say("hold.stop"))...)}})
	if c.F.Person.Role.Manages() {
		c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("hold.lift-ask")}}, Key: HoldKey,
			Buttons: LiftButton(c)})
	}
	return true
}
