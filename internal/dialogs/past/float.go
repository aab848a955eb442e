package past

import (
	"strings"

	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// FloatCommand shows where the money is.
func FloatCommand() engine.Command { return looksBack(engine.DoFloat, float) }

// float shows where the money is, and that nothing of it is gone but what is
// named: float, float 30 november.
func float(c *engine.Talk) {
	of, rest := c.Scope(c.Rest)
	head, day := c.V.Say("proof.now"), shop.Date("")
	if rest != "" {
		from, to, unread := telling.PastDays(c.Teller, strings.ToLower(rest))
		if unread != "" || from != to {
			c.Say(telling.NoDay(c.Teller, rest, "past.no-day"))
			return
		}
		head, day = c.V.Say("proof.day", "day", c.DayYear(from)), from
	}
	for _, t := range of {
		if t.Hidden() && (day == "" || telling.SeenUntil(t, day) < day) {
			c.Say(telling.Counted(t))
			return
		}
	}
	if !c.HasLedger() || c.M.Seq == 0 {
		c.Say(c.V.Say("past.nothing"))
		return
	}
	if first, before := bygone.Before(c.Teller, day); before {
		c.Say(c.V.Say("proof.before", "day", c.DayYear(day), "first", c.DayYear(first)))
		return
	}
	s, err := bygone.StandOf(of, day)
	if err != nil {
		c.Say(c.V.Say("proof.cannot"))
		return
	}
	c.Send(chat.Reply{Place: telling.Place(of),
		Body: append([]chat.Block{chat.Lines(head)}, bygone.StandBlocks(c.Teller, s)...)})
}
