package trade

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// FaultName begins the name of the deadline of an incident that is not solved.
const FaultName = "fault-"

// HowLong words a length of time: 25 min, 3 h 10 min, 2 days 4 h.
func HowLong(c *engine.Talk, d time.Duration) string {
	minutes := int64(d.Round(time.Minute) / time.Minute)
	switch hours := minutes / 60; {
	case hours >= 24:
		return c.V.Say("span.days", "days", hours/24, "hours", hours%24)
	case hours > 0:
		return c.V.Say("span.hours", "hours", hours, "minutes", minutes%60)
	}
	return c.V.Say("span.minutes", "minutes", minutes)
}

// OpenFaults are lines about the incidents that are not solved.
func OpenFaults(c *engine.Talk) (lines []string, rows [][]chat.Button) {
	for i := range c.M.Faults {
		f := &c.M.Faults[i]
		if !f.Unsolved() {
			continue
		}
		id := "fault-open"
		if !f.Out.IsZero() {
			id = "fault-open-out"
		}
		lines = append(lines, c.V.Say(id, "title", c.E.GuideTitle(f.Topic), "when", c.Clock(f.Began)))
		if !MayEnd(c, f) {
			continue
		}
		label := ask.Short(c.V.Say("button.fault-solved", "title", c.E.GuideTitle(f.Topic)), ask.LabelMax)
		rows = append(rows, []chat.Button{{Label: label, Data: "o:fault:back." + strconv.FormatInt(f.Seq, 10)}})
	}
	return lines, rows
}

// MayEnd reports whether the speaker may say that an incident is over. Staff
// may be made to say that of a robbery.
func MayEnd(c *engine.Talk, f *books.Fault) bool {
	return f.Topic != chat.Robbery || c.F.Person.ID != 0 && engine.Manages(c.F.Person)
}

// FaultsIn sums up the machine's faults during a period; empty for none.
func FaultsIn(c *engine.Talk, m *books.Machine, p *books.Period) string {
	end := p.CountedAt
	if end.IsZero() {
		end = c.In.At
	}
	n, open, down := int64(0), int64(0), time.Duration(0)
	for i := range m.Faults {
		f := &m.Faults[i]
		down += f.Down(p.Opened, end, c.In.At)
		if f.Began.Before(p.Opened) || f.Began.After(end) || f.Light {
			continue
		}
		n++
		if f.Unsolved() {
			open++
		}
	}
	if n == 0 && down == 0 {
		return ""
	}
	line := c.V.Count("note.faults", n)
	if down > 0 {
		line += " " + c.V.Say("note.down", "time", HowLong(c, down))
	}
	if open > 0 {
		line += " " + c.V.Say("note.unsolved", "n", open)
	}
	return line
}
