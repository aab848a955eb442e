package past

import (
	"cmp"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// historyLines is how many records history shows.
const historyLines = 10

// HistoryCommand shows the last records, or those of a past day.
func HistoryCommand() engine.Command {
	return engine.Command{Name: engine.DoHistory, Menu: 11, Run: here(history),
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpMore, Takes: engine.OnlyFigures}
}

// history shows the last records, newest last.
func history(c *engine.Talk) {
	if c.Rest != "" {
		historyOf(c, c.Rest)
		return
	}
	recent := c.M.Recent
	if len(recent) == 0 {
		c.Say(c.V.Say("history.none"))
		return
	}
	var lines []string
	for _, b := range recent[max(len(recent)-historyLines, 0):] {
		lines = append(lines, telling.HistoryLine(c.Teller, b))
	}
	sayRecords(c, c.V.Say("history.head"), lines)
}

// sayRecords shows records below a head, and that figures are hidden where they are.
func sayRecords(c *engine.Talk, head string, lines []string) {
	lines = append([]string{head}, lines...)
	if c.Hidden() {
		lines = append(lines, telling.Counted(c.Teller))
	}
	c.Say(chat.Lines(lines...).Text)
}

// dayRecords bounds the records of a day that are shown; the last ones are.
const dayRecords = 30

// historyOf shows every record that is for a past day, as it was written and as
// it was corrected, whenever that was: history 24 november.
func historyOf(c *engine.Talk, s string) {
	from, to, rest := telling.PastDays(c.Teller, strings.ToLower(s))
	if rest != "" || from != to {
		c.Say(telling.NoDay(c.Teller, s, "past.no-day"))
		return
	}
	m := c.Look(from)
	days := map[int64]shop.Date{}
	for _, p := range m.Periods {
		days[p.No] = c.DayOf(p)
	}
	on := map[int64]bool{}
	var lines []string
	for _, b := range m.Recent {
		day, known := days[b.Period]
		if !known {
			day = cmp.Or(b.Day, reminders.Today(c.F.Shop, b.Happened))
		}
		if on[b.Seq] = day == from || on[b.Target]; on[b.Seq] {
			lines = append(lines, telling.HistoryLine(c.Teller, b))
		}
	}
	if len(lines) == 0 {
		c.Say(c.V.Say("no-such-day", "day", c.DayYear(from)))
		return
	}
	sayRecords(c, c.V.Say("past.day", "day", c.DayYear(from)), lines[max(len(lines)-dayRecords, 0):])
}
