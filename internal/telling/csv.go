package telling

import (
	"bytes"
	"encoding/csv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/tally"
)

// exportColumns head the file that leaves the bot. They are for a spreadsheet,
// not for the counter, and stay the same in every language.
var exportColumns = []string{
	"date", "from till", "from bank", "paid out", "reversed", "test notes", "variance", "due",
	"credited", "fees", "charges", "open", "closed by",
}

// CSV writes days as comma-separated values (RFC 4180), with a total below.
func CSV(t *Teller, days []*DaySum) []byte {
	rows := make([][]string, 0, len(days)+1)
	for _, d := range days {
		name := string(d.date)
		if d.late {
			name = "for " + name
		}
		rows = append(rows, csvRow(t, name, d))
	}
	return csvFile(exportColumns, append(rows, csvRow(t, "total", totalOf(days))))
}

func csvRow(t *Teller, name string, d *DaySum) []string {
	row := []string{name}
	for _, v := range []decimal.Decimal{d.fromTill, d.fromBank, d.paidOut, d.back, d.tests, d.variance,
		d.due, d.paid, d.fees, d.charges, d.Open()} {
		row = append(row, v.StringFixed(int32(t.Digits())))
	}
	if d.incomplete {
		row[6] = "" // not known yet
	}
	var who []string
	for _, p := range d.periods {
		if p.EndedBy != 0 {
			who = append(who, t.Name(p.EndedBy))
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
			safe[i] = tally.SafeCell(cell)
		}
		_ = w.Write(safe) // a buffer takes everything
	}
	w.Flush()
	return b.Bytes()
}
