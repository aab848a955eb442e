package telling

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/texts"
)

// Levels shows what is left of each line, what was paid out since loading, and how fast.
func Levels(t *Teller, p *books.Period, list []lines.Line, v []int64, at time.Time) chat.Block {
	rows := [][]string{{"", t.V.Say("col.left"), t.V.Say("col.paid"), t.V.Say("col.rate")}}
	for i, l := range list {
		paid := p.Box(l.Box).Held - v[i]
		row := []string{t.V.Kind(l.Face), t.V.Number(v[i]), "-", "-"}
		if paid >= 0 {
			row[2], row[3] = t.V.Number(paid), t.V.Say("per-hour", "n", rate(p, paid, at))
		}
		rows = append(rows, row)
	}
	return chat.Columns(1, rows)
}

// rate is notes paid out an hour since loading, to the nearest note.
func rate(p *books.Period, paid int64, now time.Time) int64 {
	minutes := int64(now.Sub(p.Opened) / time.Minute)
	if minutes <= 0 || paid <= 0 {
		return 0
	}
	return (paid*60 + minutes/2) / minutes
}

// RunningOut says for each box whether it will run out before closing time.
func RunningOut(t *Teller, p *books.Period, list []lines.Line, v []int64, now time.Time) []string {
	day := reminders.On(t.F.Shop, reminders.Today(t.F.Shop, now))
	var out []string
	for i, l := range list {
		paid := p.Box(l.Box).Held - v[i]
		name := LineName(t, l)
		switch at, ok := runsOut(p, v[i], paid, now); {
		case paid < 0:
			out = append(out, t.V.Say("level.more", "line", name, "n", t.V.Number(-paid)))
		case v[i] == 0:
			out = append(out, t.V.Say("level.empty", "line", name))
		case ok && at.Before(day.Close):
			out = append(out, t.V.Say("level.runs-out", "line", name, "when", t.Clock(at)))
		case v[i] <= l.Low:
			out = append(out, t.V.Say("level.low", "line", name, "n", t.V.Number(v[i])))
		}
	}
	if len(out) == 0 {
		return []string{t.V.Say("level.enough")}
	}
	for i := range out {
		out[i] = texts.Upper(out[i])
	}
	return out
}

// runsOut tells when the notes left will have been paid out at the pace so far.
func runsOut(p *books.Period, left, paid int64, now time.Time) (time.Time, bool) {
	since := now.Sub(p.Opened)
	if paid <= 0 || since < time.Minute {
		return time.Time{}, false
	}
	seconds := int64(since/time.Second) * left / paid
	return now.Add(time.Duration(seconds) * time.Second).Truncate(time.Minute), true
}
