package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// StatusCommand tells how things stand.
func StatusCommand() engine.Command {
	return engine.Command{Name: engine.DoStatus, Menu: 6, Run: status,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpOften, Takes: engine.OnlyFigures}
}

// status tells what is open, what is inside and what is still to be done.
func status(c *engine.Talk) {
	body := []chat.Block{}
	p := c.M.Current()
	switch {
	case p == nil:
		body = append(body, chat.Lines(telling.NothingOpen(c.Teller, c.State.Draft.Happened)))
		last := c.M.Last()
		if len(c.M.Carried) > 0 && !c.Hidden() && (last == nil || last.Status == books.Closed) {
			body = append(body, chat.Lines(c.V.Say("status.left-in", "notes", c.Notes(c.M.Inside()))))
		}
	case c.Hidden():
		body = append(body,
			chat.Lines(c.V.Say("status.open", "when", c.Clock(p.Opened), "who", c.Name(p.By)),
				telling.Counted(c.Teller)))
	default:
		body = append(body, chat.Lines(c.V.Say("status.open", "when", c.Clock(p.Opened), "who", c.Name(p.By))))
		body = append(body, levels(c, p)...)
	}
	faults, rows := telling.OpenFaults(c.Teller)
	if lines := append(faults, telling.Todo(c.Teller)...); len(lines) > 0 {
		body = append(body, chat.Lines(lines...))
	}
	c.Send(chat.Reply{Body: body, Buttons: append(telling.TicksButtons(c.Teller), rows...)})
}

// levels shows what can be in each box, by the last level typed in or by what
// was put in.
func levels(c *engine.Talk, p *books.Period) []chat.Block {
	lines := ask.BoxLines(c)
	v := make([]int64, len(lines))
	for i, l := range lines {
		v[i], _ = p.Estimate(l.Box)
	}
	table, _ := telling.CountTable(c.Teller, lines, v)
	how := c.V.Say("status.put-in")
	if n := len(p.Readings); n > 0 {
		how = c.V.Say("status.shown", "when", c.Clock(p.Readings[n-1].Happened))
	}
	return []chat.Block{{Text: how}, table}
}
