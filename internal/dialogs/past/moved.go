package past

import (
	"maps"
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/firstdays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// movedLines bounds the days that are said one by one; all of them go along as a file.
const movedLines = 5

// tellMoved tells owners, once, which days of an earlier program's records are told
// under another date from now on.
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
