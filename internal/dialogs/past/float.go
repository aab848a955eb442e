package past

import (
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
	"shopfloat/internal/telling"
)

// FloatCommand shows where the money is.
func FloatCommand() engine.Command { return looksBack(engine.DoFloat, float) }

// float shows where the money is, and that nothing of it is gone but what is
// named: float, float 30 november.
func float(c *engine.Talk) {
	if c.Hidden() {
		c.Say(c.V.Say("hidden"))
		return
	}
	head, day, end := c.V.Say("proof.now"), c.Today(), time.Time{}
	if c.Rest != "" {
		from, to, rest := telling.PastDays(c.Teller, strings.ToLower(c.Rest))
		if rest != "" || from != to {
			c.Say(c.V.Say("past.no-day", "near", c.Rest))
			return
		}
		head, day, end = c.V.Say("proof.day", "day", c.DayYear(from)), from,
			telling.EndOf(c.Teller, from)
	}
	if !c.HasLedger() || len(c.F.Ask.Entries()) == 0 {
		c.Say(c.V.Say("past.nothing"))
		return
	}
	if first := c.F.Ask.Entries()[0].Happened; !end.IsZero() && !end.After(first) {
		c.Say(c.V.Say("proof.before", "day", c.DayYear(day), "first",
			c.DayYear(shop.DateOf(c.Local(first)))))
		return
	}
	s, err := stand.At(c.M.ID, c.F.Ask.Entries(), end)
	if err != nil {
		c.Say(c.V.Say("proof.cannot"))
		return
	}
	c.Send(chat.Reply{Body: append([]chat.Block{chat.Lines(head)}, telling.StandBlocks(c.Teller, s)...)})
}
