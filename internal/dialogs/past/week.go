package past

import (
	"maps"
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/firstdays"
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

// movedLines bounds the days that are said one by one; all of them go along as a file.
const movedLines = 5

// tellMoved tells owners, once, which days of an earlier program's records have another date from now on.
func tellMoved(c *engine.Talk) {
	if c.In.Text != chat.DaysMoved || !c.HasLedger() {
		return
	}
	moved := firstdays.Moved(c.F.Ask.Entries(), c.F.Shop)
	days := slices.Sorted(maps.Keys(moved))
	if len(days) == 0 {
		return
	}
	rows, csv := [][]string{}, "date,was\r\n"
	for _, day := range days {
		csv += string(day) + "," + string(moved[day]) + "\r\n"
		rows = append(rows, []string{c.V.Day(day.Time()), c.V.Say("moved.was", "day", c.V.Day(moved[day].Time()))})
	}
	head := chat.Lines(c.V.Count("moved.head", int64(len(days))), c.Which())
	r := chat.Reply{Silent: true, Body: []chat.Block{head,
		chat.Columns(1, rows[:min(len(rows), movedLines)]), chat.Lines(c.V.Say("moved.why"))}}
	if len(rows) > movedLines {
		r.File = &chat.File{Name: "days.csv", Data: []byte(csv)}
	}
	c.TellPeople(reminders.People(c.F.Shop, c.Today(), reminders.Summary, shop.Owners), r)
}
