package dialogs

import (
	"bytes"
	"encoding/csv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
)

// exportColumns head the file that leaves the bot. They are for a spreadsheet,
// not for the counter, and stay the same in every language.
var exportColumns = []string{
	"date", "from till", "from bank", "paid out", "reversed", "test notes", "variance", "due",
	"credited", "fees", "charges", "open", "closed by",
}

func exportCommand() command {
	return command{name: doExport, rights: rights{access.Keeping, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).export}
}

// export sends a month as a file of comma-separated values (RFC 4180).
func (c *talk) export() {
	from, to, ok := c.monthOf(c.rest)
	if !ok {
		c.say(c.v.Say("past.no-month", "near", c.rest))
		return
	}
	days := c.past(from, to)
	switch {
	case len(days) == 0:
		c.say(c.v.Say("past.nothing"))
		return
	case c.hidden():
		c.say(c.v.Say("hidden"))
		return
	}
	name := strings.ToLower(from.Time().Format("2006-01")) + ".csv"
	c.send(Reply{Body: []Block{text(c.v.Say("export.done", "from", c.v.Day(from.Time()), "to",
		c.v.Day(to.Time())),
		c.v.Count("export.days", int64(len(days))))}, File: &File{Name: name, Data: c.csvOf(days)}})
}

func (c *talk) csvOf(days []*daySum) []byte {
	rows := make([][]string, 0, len(days)+1)
	for _, d := range days {
		rows = append(rows, c.csvRow(string(d.date), d))
	}
	return CSV(exportColumns, append(rows, c.csvRow("total", total(days))))
}

func (c *talk) csvRow(name string, d *daySum) []string {
	row := []string{name}
	for _, v := range []decimal.Decimal{d.fromTill, d.fromBank, d.paidOut, d.back, d.tests, d.variance,
		d.due, d.paid,
		d.fees, d.charges, d.open()} {
		row = append(row, v.StringFixed(int32(c.minorDigits())))
	}
	if d.incomplete {
		row[6] = "" // not known yet
	}
	var who []string
	for _, p := range d.periods {
		if p.EndedBy != 0 {
			who = append(who, c.name(p.EndedBy))
		}
	}
	return append(row, strings.Join(who, "; "))
}

// CSV writes rows under a head. What a spreadsheet would take for a formula is
// quoted with an apostrophe; a plain number stays one.
func CSV(head []string, rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range append([][]string{head}, rows...) {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = Cell(cell)
		}
		_ = w.Write(safe) // a buffer takes everything
	}
	w.Flush()
	return b.Bytes()
}

// Cell makes a cell that no spreadsheet takes for a formula: one that begins
// with a sign of a formula, after blanks too, gets an apostrophe in front,
// unless it is a number (OWASP, CSV Injection: = + - @ tab and carriage return).
func Cell(s string) string {
	if _, err := decimal.NewFromString(s); err == nil && !strings.HasPrefix(s, "+") {
		return s
	}
	if t := strings.TrimLeft(s, " \u00a0"); t != "" && strings.ContainsAny(t[:1], "=+-@\t\r\n|%") {
		return "'" + s
	}
	return s
}
