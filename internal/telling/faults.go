package telling

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/texts"
)

// HowLong words a length of time: 25 min, 3 h 10 min, 2 days 4 h.
func HowLong(t *Teller, d time.Duration) string {
	minutes := int64(d.Round(time.Minute) / time.Minute)
	switch hours := minutes / 60; {
	case hours >= 24:
		return t.V.Say("span.days", "days", hours/24, "hours", hours%24)
	case hours > 0:
		return t.V.Say("span.hours", "hours", hours, "minutes", minutes%60)
	}
	return t.V.Say("span.minutes", "minutes", minutes)
}

// OpenFaults are lines about the incidents that are not solved.
func OpenFaults(t *Teller) (lines []string, rows [][]chat.Button) {
	for i := range t.M.Faults {
		f := &t.M.Faults[i]
		if !f.Unsolved() {
			continue
		}
		id := "fault-open"
		if !f.Out.IsZero() {
			id = "fault-open-out"
		}
		lines = append(lines, t.V.Say(id, "title", t.GuideTitle(f.Topic), "when", t.Clock(f.Began)))
		if !MayEnd(t, f) {
			continue
		}
		label := texts.Short(t.V.Say("button.fault-solved", "title", t.GuideTitle(f.Topic)), texts.LabelMax)
		rows = append(rows, []chat.Button{{Label: label, Data: "o:fault:back." + strconv.FormatInt(f.Seq, 10)}})
	}
	return lines, rows
}

// MayEnd reports whether the speaker may say that an incident is over. Staff
// may be made to say that of a robbery.
func MayEnd(t *Teller, f *books.Fault) bool {
	return f.Topic != chat.Robbery || t.F.Person.ID != 0 && t.F.Person.Acts().Manages()
}

// FaultsIn sums up the machine's faults during a period; empty for none.
func FaultsIn(t *Teller, m *books.Machine, p *books.Period) string {
	end := p.CountedAt
	if end.IsZero() {
		end = t.Now
	}
	n, open, down := int64(0), int64(0), time.Duration(0)
	for i := range m.Faults {
		f := &m.Faults[i]
		down += f.Down(p.Opened, end, t.Now)
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
	line := t.V.Count("note.faults", n)
	if down > 0 {
		line += " " + t.V.Say("note.down", "time", HowLong(t, down))
	}
	if open > 0 {
		line += " " + t.V.Say("note.unsolved", "n", open)
	}
	return line
}
