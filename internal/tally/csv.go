package tally

import (
	"encoding/csv"
	"io"
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Writer writes the days of machines as a file, with people by their names; nil: by none.
type Writer func(to io.Writer, machines []*Machine, names func(shop.PersonID) string) error

// WriteCSV writes the days of all machines as comma-separated values (RFC 4180).
func WriteCSV(to io.Writer, machines []*Machine, names func(shop.PersonID) string) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	head := append(append([]string{"shop", "machine", "currency", "date"}, Columns...), "closed by")
	_ = w.Write(append(append(head, PaymentColumns...), NoteColumn))
	for _, m := range machines {
		money, err := cashmath.LookupCurrency(m.Shop.Currency)
		if err != nil {
			return err
		}
		for _, d := range m.Days {
			row := append(m.dayRow(d, money, names), m.DayCells(d, money.Amount)...)
			_ = w.Write(safe(append(row, d.Note()))) // w keeps its error
		}
		for i := range m.Payments {
			p := &m.Payments[i]
			row := []string{m.Shop.Name, m.Kit.Name, m.Shop.Currency, p.Name()}
			row = append(row, make([]string, len(Columns)+1)...)
			row = append(row, m.PaymentCells(p, money.Amount)...)
			_ = w.Write(safe(append(row, "")))
		}
	}
	w.Flush()
	return w.Error()
}

// NoteColumn heads what is to be known of a day beside its figures.
const NoteColumn = "note"

// Note is what is to be known of a day: that sealed bundles went in which nobody counted.
func (d *Day) Note() string {
	if slices.ContainsFunc(d.Periods, func(p *books.Period) bool { return p.Has(books.Uncounted) }) {
		return "top-up in sealed bundles, not counted"
	}
	return ""
}

// dayRow is a day in the earlier columns.
func (m *Machine) dayRow(d *Day, money cashmath.Currency, names func(shop.PersonID) string) []string {
	row := []string{m.Shop.Name, m.Kit.Name, m.Shop.Currency, d.Name()}
	for i, v := range d.Amounts() {
		cell := money.Amount(v)
		if i == VarianceColumn && d.Unknown {
			cell = "not known"
		}
		row = append(row, cell)
	}
	var who []string
	for _, p := range d.Closed {
		who = append(who, names(p))
	}
	return append(row, strings.Join(who, "; "))
}

// safe makes every cell of a row one that no spreadsheet takes for a formula.
func safe(row []string) []string {
	for i := range row {
		row[i] = SafeCell(row[i])
	}
	return row
}
