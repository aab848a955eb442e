package dialogs

import (
	"strings"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// dayRecords bounds the records of a day that are shown; the last ones are.
const dayRecords = 30

// historyOf shows every record that is for a past day, as it was written and as
// it was corrected, whenever that was: history 24 november.
func (c *talk) historyOf(s string) {
	from, to, rest := c.pastDays(strings.ToLower(s))
	if rest != "" || from != to {
		c.say(c.v.Say("past.no-day", "near", s))
		return
	}
	m := c.look()
	days := map[int64]shop.Date{}
	for _, p := range m.Periods {
		days[p.No] = c.dayOf(p)
	}
	on := map[int64]bool{}
	var lines []string
	for _, b := range m.Recent {
		day, known := days[b.Period]
		if !known {
			day = reminders.Today(c.f.Shop, b.Happened)
		}
		if on[b.Seq] = day == from || on[b.Target]; on[b.Seq] {
			lines = append(lines, c.historyLine(b))
		}
	}
	if len(lines) == 0 {
		c.say(c.v.Say("no-such-day", "day", c.dayYear(from)))
		return
	}
	lines = lines[max(len(lines)-dayRecords, 0):]
	if c.hidden() {
		lines = append(lines, c.v.Say("hidden"))
	}
	c.send(Reply{Body: []Block{text(append([]string{c.v.Say("past.day", "day", c.dayYear(from))},
		lines...)...)}})
}
