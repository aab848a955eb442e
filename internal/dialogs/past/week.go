package past

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// tellWeek sends the owners the summary of the seven days before.
func tellWeek(c *engine.Talk, n reminders.Name) {
	body := telling.Week(c.Teller, c.F.Past, n.Date)
	if body == nil {
		return
	}
	body = append(body, chat.Block{Text: telling.CopyLine(c.Teller)})
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, shop.Owners) {
		c.TellPerson(id, chat.Reply{Body: body, Silent: true})
	}
}
