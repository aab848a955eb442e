package trade

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
)

// AskTicks shows the checklist of a period in place of the tapped card, and
// sees to it that it is asked again.
func AskTicks(c *engine.Talk, p *books.Period, head string) {
	old := c.Key()
	c.End()
	c.InPlace(old, telling.TicksCard(c.Teller, p, head))
	c.Climb(telling.TicksKey(p.No), c.In.At, reminders.Ticks)
}
