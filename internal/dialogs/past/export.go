package past

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// ExportCommand sends a month as a file.
func ExportCommand() engine.Command { return looksBack(engine.DoExport, export) }

// export sends a month as a file of comma-separated values (RFC 4180).
func export(c *engine.Talk) {
	from, to, ok := monthOf(c, c.Rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", c.Rest))
		return
	}
	days := telling.Past(c.Teller, from, to)
	if !shown(c, days, c.V.Say("past.nothing")) {
		return
	}
	done := c.V.Say("export.done", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time()))
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(done, c.V.Count("export.days", int64(len(days))))},
		File: &chat.File{Name: from.Time().Format("2006-01") + ".csv", Data: telling.CSV(c.Teller, days)}})
}
