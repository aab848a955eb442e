package past

import (
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// dayRecords bounds the records of a day that are shown; the last ones are.
const dayRecords = 30

// historyOf shows every record that is for a past day, as it was written and as
// it was corrected, whenever that was: history 24 november.
func historyOf(c *engine.Talk, s string) {
	from, to, rest := trade.PastDays(c, strings.ToLower(s))
	if rest != "" || from != to {
		c.Say(c.V.Say("past.no-day", "near", s))
		return
	}
	m := trade.Look(c)
	days := map[int64]shop.Date{}
	for _, p := range m.Periods {
		days[p.No] = c.DayOf(p)
	}
	on := map[int64]bool{}
	var lines []string
	for _, b := range m.Recent {
		day, known := days[b.Period]
		if !known {
			day = reminders.Today(c.F.Shop, b.Happened)
		}
		if on[b.Seq] = day == from || on[b.Target]; on[b.Seq] {
			lines = append(lines, trade.HistoryLine(c, b))
		}
	}
	if len(lines) == 0 {
		c.Say(c.V.Say("no-such-day", "day", ask.DayYear(c, from)))
		return
	}
	lines = lines[max(len(lines)-dayRecords, 0):]
	if c.Hidden() {
		lines = append(lines, c.V.Say("hidden"))
	}
	c.Send(
		chat.Reply{Body: []chat.Block{engine.Text(append([]string{c.V.Say("past.day", "day", ask.DayYear(c, from))},
			lines...)...)}},
	)
}
