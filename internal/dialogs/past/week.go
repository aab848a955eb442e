package past

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/letters"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// tellWeek sends the owners the letter of the week over all their shops. It goes out once,
// with the deadline of one of their machines.
func tellWeek(c *engine.Talk, n reminders.Name) {
	voice := func(s *shop.Shop) *texts.Voice { return c.All.In(c.F.Lang, s.Country, s.Currency) }
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, shop.Owners) {
		if c.F.Ask.Estates == nil {
			return
		}
		list := c.F.Ask.Estates(id)
		if first, ok := reminders.Writes(letters.SitesOf(list, c.In.At)); !ok || first != c.State.Machine {
			continue
		}
		if body := letters.Weekly(c.Teller, list, n.Date, voice); body != nil {
			c.Nowhere = true // it says of which place each line is
			c.TellPerson(id, chat.Reply{Body: body, Silent: true})
		}
	}
}
