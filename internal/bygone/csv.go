package bygone

import (
	"bytes"
	"encoding/csv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// exportColumns head the file that leaves the bot. They are for a spreadsheet,
// not for the counter, and stay the same in every language.
var exportColumns = []string{
	"date", "from till", "from bank", "paid out", "reversed", "test notes", "variance", "due",
	"credited", "fees", "charges", "open", "closed by",
}

// CSV writes the days of machines as comma-separated values (RFC 4180), then what the
// bank paid and took meanwhile, with a total below.
func CSV(t *telling.Teller, machines []*tally.Machine) []byte {
	var rows [][]string
	var days []*tally.Day
	var payments []tally.Payment
	write := func(d decimal.Decimal) string { return d.StringFixed(int32(t.Digits())) }
	for _, m := range machines {
		for _, d := range m.Days {
			rows = append(rows, append(csvRow(t, d.Name(), d, write), m.DayCells(d, write)...))
		}
		for i := range m.Payments {
			row := append([]string{m.Payments[i].Name()}, make([]string, len(exportColumns)-1)...)
			rows = append(rows, append(row, m.PaymentCells(&m.Payments[i], write)...))
		}
		days, payments = append(days, m.Days...), append(payments, m.Payments...)
	}
	all := tally.Total(days)
	m := tally.Machine{Shop: t.F.Shop, Kit: &shop.Machine{}}
	cells := m.PaymentCells(tally.Came(payments), write)
	cells[tally.GivenUpColumn], cells[tally.TaxColumn] = write(all.GivenUp), write(all.Tax)
	return csvFile(append(exportColumns[:len(exportColumns):len(exportColumns)], tally.PaymentColumns...),
		append(rows, append(csvRow(t, "total", all, write), cells...)))
}

func csvRow(t *telling.Teller, name string, d *tally.Day, write func(decimal.Decimal) string) []string {
	row := []string{name}
	for _, v := range []decimal.Decimal{d.FromTill, d.FromBank, d.PaidOut, d.Back, d.Tests, d.Variance,
		d.Due, d.Credited, d.Fees, d.Charges, d.Open()} {
		row = append(row, write(v))
	}
	if d.Unknown {
		row[6] = "" // what is not known is never nothing
	}
	var who []string
	for _, p := range d.Periods {
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
