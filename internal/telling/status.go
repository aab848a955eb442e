package telling

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/lines"
)

// Status tells what is open, what is inside the boxes and what is still to be done. Happened
// is the time that is told of; zero: now.
func Status(t *Teller, boxes []lines.Line, happened time.Time) chat.Reply {
	body := []chat.Block{}
	p := t.M.Current()
	switch {
	case p == nil:
		body = append(body, chat.Lines(NothingOpen(t, happened)))
		last := t.M.Last()
		if len(t.M.Carried) > 0 && !t.Hidden() && (last == nil || last.Status == books.Closed) {
			body = append(body, chat.Lines(t.V.Say("status.left-in", "notes", t.Notes(t.M.Inside()))))
		}
	case t.Hidden():
		body = append(body,
			chat.Lines(t.V.Say("status.open", "when", t.Clock(p.Opened), "who", t.Name(p.By)), Counted(t)))
	default:
		body = append(body, chat.Lines(t.V.Say("status.open", "when", t.Clock(p.Opened), "who", t.Name(p.By))))
		body = append(body, levels(t, p, boxes)...)
	}
	faults, rows := OpenFaults(t)
	if todo := append(faults, Todo(t)...); len(todo) > 0 {
		body = append(body, chat.Lines(todo...))
	}
	return chat.Reply{Body: body, Buttons: append(TicksButtons(t), rows...)}
}

// levels shows what can be in each box, by the last level typed in or by what
// was put in.
func levels(t *Teller, p *books.Period, boxes []lines.Line) []chat.Block {
	v := make([]int64, len(boxes))
	for i, l := range boxes {
		v[i], _ = p.Estimate(l.Box)
	}
	table, _ := CountTable(t, boxes, v)
	how := t.V.Say("status.put-in")
	if n := len(p.Readings); n > 0 {
		how = t.V.Say("status.shown", "when", t.Clock(p.Readings[n-1].Happened))
	}
	return []chat.Block{{Text: how}, table}
}
