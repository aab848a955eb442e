package past

import (
	"bytes"
	"encoding/csv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// exportColumns head the file that leaves the bot. They are for a spreadsheet,
// not for the counter, and stay the same in every language.
var exportColumns = []string{
	"date", "from till", "from bank", "paid out", "reversed", "test notes", "variance", "due",
	"credited", "fees", "charges", "open", "closed by",
}

// ExportCommand sends a month as a file.
func ExportCommand() engine.Command { return looksBack(engine.DoExport, export) }

// export sends a month as a file of comma-separated values (RFC 4180).
func export(c *engine.Talk) {
	from, to, ok := monthOf(c, c.Rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", c.Rest))
		return
	}
	days := past(c, from, to)
	if !shown(c, days, c.V.Say("past.nothing")) {
		return
	}
	done := c.V.Say("export.done", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time()))
	c.Send(chat.Reply{Body: []chat.Block{engine.Text(done, c.V.Count("export.days", int64(len(days))))},
		File: &chat.File{Name: from.Time().Format("2006-01") + ".csv", Data: csvOf(c, days)}})
}

func csvOf(c *engine.Talk, days []*daySum) []byte {
	rows := make([][]string, 0, len(days)+1)
	for _, d := range days {
		rows = append(rows, csvRow(c, string(d.date), d))
	}
	return csvFile(exportColumns, append(rows, csvRow(c, "total", total(days))))
}

func csvRow(c *engine.Talk, name string, d *daySum) []string {
	row := []string{name}
	for _, v := range []decimal.Decimal{d.fromTill, d.fromBank, d.paidOut, d.back, d.tests, d.variance,
		d.due, d.paid, d.fees, d.charges, d.open()} {
		row = append(row, v.StringFixed(int32(ask.MinorDigits(c))))
	}
	if d.incomplete {
		row[6] = "" // not known yet
	}
	var who []string
	for _, p := range d.periods {
		if p.EndedBy != 0 {
			who = append(who, c.Name(p.EndedBy))
		}
	}
	return append(row, strings.Join(who, "; "))
}

// csvFile writes rows under a head. What a spreadsheet would take for a formula is
// quoted with an apostrophe; a plain number stays one.
func csvFile(head []string, rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range append([][]string{head}, rows...) {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = safeCell(cell)
		}
		_ = w.Write(safe) // a buffer takes everything
	}
	w.Flush()
	return b.Bytes()
}

// safeCell makes a cell that no spreadsheet takes for a formula: one that begins
// with a sign of a formula, after blanks too, gets an apostrophe in front,
// unless it is a number (OWASP, CSV Injection: = + - @ tab and carriage return).
func safeCell(s string) string {
	if _, err := decimal.NewFromString(s); err == nil && !strings.HasPrefix(s, "+") {
		return s
	}
	if t := strings.TrimLeft(s, " \u00a0"); t != "" && strings.ContainsAny(t[:1], "=+-@\t\r\n|%") {
		return "'" + s
	}
	return s
}
