package past

import (
	"bytes"
	"strings"

	"shopfloat/internal/bygone"
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
	write       func(c *telling.Teller, to *bytes.Buffer, m *tally.Machine) error
}

// forms are the kinds of file beside the table that is sent when none is named.
var forms = []form{
	{"words.workbook", ".xlsx", func(c *telling.Teller, to *bytes.Buffer, m *tally.Machine) error {
		return workbook.Write(to, []*tally.Machine{m}, c.Name)
	}},
	{"words.paper", ".pdf", func(c *telling.Teller, to *bytes.Buffer, m *tally.Machine) error {
		return filed.Month(to, m, filed.Options{Voice: c.V, Names: c.Name, Made: c.Local(c.Now),
			Letter: filed.OnLetter(c.F.Shop.Country)})
	}},
	{"words.journal", ".journal", journalOf(false)},
	{"words.beancount", ".beancount", journalOf(true)},
}

func journalOf(beancount bool) func(*telling.Teller, *bytes.Buffer, *tally.Machine) error {
	return func(c *telling.Teller, to *bytes.Buffer, m *tally.Machine) error {
		var finished []shop.Finished
		if c.F.Ask.Finished != nil {
			finished = c.F.Ask.Finished()
		}
		list, err := journal.Finished(m.Shop, m.Kit.ID, c.F.Ask.Entries(), finished)
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
	of, rest := c.Scope(c.Rest)
	f, rest := formOf(c, rest)
	from, to, ok := monthOf(c, rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", rest))
		return
	}
	list := past(c, of, from, to, c.V.Say("past.nothing"))
	if list == nil {
		return
	}
	done := c.V.Say("export.done", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time()))
	name := from.Time().Format("2006-01")
	if f != nil {
		for i, m := range list {
			exportForm(c, of[i], f, m, done)
		}
		return
	}
	days := int64(len(tally.Joined(list)))
	c.Send(chat.Reply{Place: telling.Place(of), Body: []chat.Block{chat.Lines(done,
		c.V.Count("export.days", days), c.V.Say("export.forms"))},
		File: &chat.File{Name: name + ".csv", Data: bygone.CSV(c.Teller, list)}})
}

// exportForm sends the month in another form. The check word stands in the
// message: it is known only when that is written.
func exportForm(c *engine.Talk, t *telling.Teller, f *form, m *tally.Machine, done string) {
	var b bytes.Buffer
	if err := f.write(t, &b, m); err != nil {
		c.Say(c.V.Say("proof.cannot"))
		return
	}
	word := ""
	if t == c.Teller { // the word is that of the machine at hand
		word = c.V.Say("note.check", "word", chat.CheckMark)
	}
	c.Send(chat.Reply{Place: telling.Place([]*telling.Teller{t}), Body: []chat.Block{chat.Lines(done, word)},
		File: &chat.File{Name: m.From.Time().Format("2006-01") + f.ends, Data: b.Bytes()}})
}
