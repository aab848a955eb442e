package past

import (
	"bytes"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/filed"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
	"shopfloat/internal/workbook"
)

// ExportCommand sends a month as a file.
func ExportCommand() engine.Command { return looksBack(engine.DoExport, export) }

// form is a kind of file by the words that ask for it.
type form struct {
	words, ends string
	write       func(c *engine.Talk, to *bytes.Buffer, m *tally.Machine) error
}

// forms are the kinds of file beside the table that is sent when none is named.
var forms = []form{
	{"words.workbook", ".xlsx", func(c *engine.Talk, to *bytes.Buffer, m *tally.Machine) error {
		return workbook.Write(to, []*tally.Machine{m}, c.Name)
	}},
	{"words.paper", ".pdf", func(c *engine.Talk, to *bytes.Buffer, m *tally.Machine) error {
		return filed.Month(to, m, filed.Options{Voice: c.V, Names: c.Name, Made: c.Local(c.In.At),
			Letter: c.F.Shop.Country == "US" || c.F.Shop.Country == "CA"})
	}},
	{"words.journal", ".journal", journalOf(false)},
	{"words.beancount", ".beancount", journalOf(true)},
}

func journalOf(beancount bool) func(*engine.Talk, *bytes.Buffer, *tally.Machine) error {
	return func(c *engine.Talk, to *bytes.Buffer, m *tally.Machine) error {
		list, err := journal.Finished(m.Shop, m.Kit.ID, c.F.Ask.Entries(), finished(c))
		if err != nil {
			return err
		}
		return journal.Write(to, []journal.Ledger{{Shop: m.Shop, Machine: m.Kit, Transactions: list}},
			journal.Options{From: m.From, To: m.To, Beancount: beancount})
	}
}

// formOf finds the kind of file that is named, and what else was said.
func formOf(c *engine.Talk, s string) (*form, string) {
	words := strings.Fields(strings.ToLower(s))
	for i, w := range words {
		for j := range forms {
			for _, known := range c.V.List(forms[j].words) {
				if w == known {
					return &forms[j], strings.Join(append(words[:i:i], words[i+1:]...), " ")
				}
			}
		}
	}
	return nil, s
}

// export sends a month as a file: export, export november, export november xlsx.
func export(c *engine.Talk) {
	f, rest := formOf(c, c.Rest)
	from, to, ok := monthOf(c, rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", rest))
		return
	}
	days := telling.Past(c.Teller, from, to)
	if !shown(c, days, c.V.Say("past.nothing")) {
		return
	}
	done := c.V.Say("export.done", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time()))
	name := from.Time().Format("2006-01")
	if f != nil {
		exportForm(c, f, from, to, done)
		return
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(done, c.V.Count("export.days", int64(len(days))),
		c.V.Say("export.forms"))}, File: &chat.File{Name: name + ".csv", Data: telling.CSV(c.Teller, days)}})
}

// exportForm sends the month in another form. The check word stands in the
// message: it is known only when that is written.
func exportForm(c *engine.Talk, f *form, from, to shop.Date, done string) {
	var b bytes.Buffer
	var entries []books.Entry
	if c.HasLedger() {
		entries = c.F.Ask.Entries()
	}
	m, err := tally.Finished(c.F.Shop, c.Kit, entries, from, to, finished(c))
	if err == nil {
		err = f.write(c, &b, m)
	}
	if err != nil {
		c.Say(c.V.Say("proof.cannot"))
		return
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(done, c.V.Say("note.check", "word", chat.CheckMark))},
		File: &chat.File{Name: from.Time().Format("2006-01") + f.ends, Data: b.Bytes()}})
}
