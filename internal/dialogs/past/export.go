package past

import (
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/monthfile"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// ExportCommand sends a month as a file.
func ExportCommand() engine.Command { return looksBack(engine.DoExport, export) }

// export sends a month as a file: export, export november, export november xlsx.
func export(c *engine.Talk) {
	of, rest := c.Scope(c.Rest)
	f, rest := monthfile.Named(c.Teller, rest, c.In.Text)
	from, to, ok := bygone.MonthOf(c.Teller, rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", rest))
		return
	}
	list := past(c, of, from, to, c.V.Say("past.nothing"))
	if list == nil {
		return
	}
	done := c.V.Say("export.done", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time()))
	if f != nil {
		exportForms(c, of, f, list, done)
		return
	}
	days := int64(len(tally.Joined(list)))
	c.Send(chat.Reply{Place: telling.Place(of), Body: []chat.Block{chat.Lines(done,
		c.V.Count("export.days", days), c.V.Say("export.forms"), bygone.FeesLine(c.Teller, list))},
		File: &chat.File{Name: from.Time().Format("2006-01") + ".csv", Data: bygone.CSV(c.Teller, list)}})
}

// exportForms sends the month in another form, of each machine by itself where a file is of one.
func exportForms(c *engine.Talk, of []*telling.Teller, f *monthfile.Form, list []*tally.Machine,
	done string) {
	if !f.Alone() {
		exportForm(c, of, f, list, done)
		return
	}
	for i := range list {
		exportForm(c, of[i:i+1], f, list[i:i+1], done)
	}
}

// exportForm sends the month in another form. The check word stands in the
// message: it is known only when that is written.
func exportForm(c *engine.Talk, of []*telling.Teller, f *monthfile.Form, list []*tally.Machine, done string) {
	data, err := f.Write(of, list)
	if err != nil {
		c.Say(c.V.Say("proof.cannot"))
		return
	}
	word := ""
	if len(of) == 1 && of[0] == c.Teller { // the word is that of the machine at hand
		word = c.V.Say("note.check", "word", chat.CheckMark)
	}
	c.Send(chat.Reply{Place: telling.Place(of), Body: []chat.Block{chat.Lines(done, word)},
		File: &chat.File{Name: f.Name(list[0]), Data: data}})
}
