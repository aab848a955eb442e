package day

import (
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
)

// tellTicks shows the checklist again: to whoever opened, then to those above.
func tellTicks(c *engine.Talk, no int64, r reminders.Rung) {
	p := c.M.Period(no)
	card := trade.TicksCard(c, p, c.V.Say("ticks.again", "when", c.Clock(p.Opened)))
	card.Retire = trade.TicksKey(p.No)
	c.TellPeople(c.WhoHas(p.By, c.DayOf(p), reminders.Ticks, r), card)
}
