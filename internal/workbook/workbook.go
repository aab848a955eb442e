// Package workbook writes days as an Office Open XML workbook (ISO/IEC 29500):
// dates and amounts as such, totals as formulas, one sheet for each machine, one for
// all, and one for what the bank paid and took. It is pure.
package workbook

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/xlsx"
)

// Note is what the workbook says of itself.
const Note = "Figures as recorded by the shop. Fees are its own income as it was paid; " +
	"nothing here advises on tax."

// Write writes the machines' days. names gives the name of a person; nil: none.
func Write(to io.Writer, machines []*tally.Machine, names func(shop.PersonID) string) error {
	w := &writer{names: names, taken: map[string]bool{}}
	all, payments := w.title("All machines"), w.title("Payments") // before any machine takes the name
	w.all(w.Sheet(all), machines)
	for _, m := range machines {
		w.machine(m)
	}
	w.payments(w.Sheet(payments), machines)
	w.about(machines)
	_, err := w.WriteTo(to)
	return err
}

type writer struct {
	xlsx.Book
	names func(shop.PersonID) string
	taken map[string]bool // names of sheets, in small letters
}

// title makes a name good for a sheet: at most 31 letters, none of \ / ? * [ ] :,
// no apostrophe at its ends, and no other sheet's (ISO/IEC 29500, sheet names, as
// remembered).
func (w *writer) title(name string) string {
	clean := strings.Trim(strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`\/?*[]:`, r) {
			return ' '
		}
		return r
	}, name), "' ")
	if clean == "" {
		clean = "Machine"
	}
	for n := 1; ; n++ {
		t := cut(clean, 31)
		if n > 1 {
			t = cut(clean, 27) + fmt.Sprintf(" (%d)", n)
		}
		if key := strings.ToLower(t); !w.taken[key] {
			w.taken[key] = true
			return t
		}
	}
}

// cut shortens by what the format counts: units of UTF-16.
func cut(s string, units int) string {
	for i, r := range s {
		if units -= utf16.RuneLen(r); units < 0 {
			return s[:i]
		}
	}
	return s
}

// amounts is how amounts of a currency are shown.
func amounts(currency string) xlsx.Style {
	c, err := cashmath.LookupCurrency(currency)
	if err != nil || c.Digits() == 0 {
		return xlsx.Style{Format: "#,##0"}
	}
	return xlsx.Style{Format: "#,##0." + strings.Repeat("0", int(c.Digits()))}
}

var plain, bold, dates = xlsx.Style{}, xlsx.Style{Bold: true}, xlsx.Style{Format: "yyyy-mm-dd"}

// head writes the columns' names and keeps them in sight.
func head(s *xlsx.Sheet, columns []string) {
	for i, c := range columns {
		s.Text(i+1, 1, c, bold)
	}
	s.KeepHead()
	s.Widen(len(columns), 13)
}

// date writes a date as one, unless it is of a line of a month that was finished.
func date(s *xlsx.Sheet, column, row int, date shop.Date, name string) {
	if string(date) != name {
		s.Text(column, row, name, plain)
		return
	}
	s.Date(column, row, date.Time(), dates)
}

// columns name the amounts of a day: those of the other files, what was given up, and the
// tax in the fees.
var columns = append(slices.Clip(tally.Columns), tally.PaymentColumns[tally.GivenUpColumn],
	tally.PaymentColumns[tally.TaxColumn])

// day writes the amounts of a day from a column on. A difference that is not
// known is no number.
func day(s *xlsx.Sheet, column, row int, d *tally.Day, currency string) {
	for i, v := range append(d.Amounts(), d.GivenUp, d.Tax) {
		if i == tally.VarianceColumn && d.Unknown {
			s.Text(column+i, row, "not known", plain)
			continue
		}
		s.Number(column+i, row, v.String(), amounts(currency))
	}
}

func (w *writer) machine(m *tally.Machine) {
	s := w.Sheet(w.title(m.Kit.Name))
	head(s, append(append([]string{"date"}, columns...), "closed by"))
	for i, d := range m.Days {
		date(s, 1, i+2, d.Date, d.Name())
		day(s, 2, i+2, d, m.Shop.Currency)
		s.Text(2+len(columns), i+2, w.who(d), plain)
	}
	row := len(m.Days) + 2
	s.Text(1, row, "total "+m.Shop.Currency, plain)
	for i := range columns {
		c := xlsx.Column(i + 2)
		total(s, i+2, row, fmt.Sprintf("SUM(%s2:%[1]s%d)", c, max(row-1, 2)), m.Shop.Currency)
	}
	s.Text(1, row+2, wordOf(m), plain)
}

// wordOf tells the check word, where it is known when the file is made.
func wordOf(m *tally.Machine) string {
	if m.Word == "" {
		return ""
	}
	return "check word " + m.Word
}

func total(s *xlsx.Sheet, column, row int, formula, currency string) {
	look := amounts(currency)
	look.Bold = true
	s.Formula(column, row, formula, look)
}

func (w *writer) who(d *tally.Day) string {
	var list []string
	for _, p := range d.Closed {
		if w.names != nil {
			list = append(list, w.names(p))
		}
	}
	return strings.Join(list, "; ")
}

// all puts the days of all machines below one another, with a total for each
// currency: they are never added to one another.
func (w *writer) all(s *xlsx.Sheet, machines []*tally.Machine) {
	head(s, append([]string{"shop", "machine", "currency", "date"}, columns...))
	row := 2
	for _, m := range machines {
		for _, d := range m.Days {
			place(s, row, m)
			date(s, 4, row, d.Date, d.Name())
			day(s, 5, row, d, m.Shop.Currency)
			row++
		}
	}
	totals(s, row, 5, len(columns), machines)
}

// place says in the first columns of what machine and currency a row is.
func place(s *xlsx.Sheet, row int, m *tally.Machine) {
	for i, text := range []string{m.Shop.Name, m.Kit.Name, m.Shop.Currency} {
		s.Text(i+1, row, text, plain)
	}
}

// totals adds columns up below the last row, each currency by itself.
func totals(s *xlsx.Sheet, row, from, columns int, machines []*tally.Machine) {
	var currencies []string
	for _, m := range machines {
		if !slices.Contains(currencies, m.Shop.Currency) {
			currencies = append(currencies, m.Shop.Currency)
		}
	}
	last := max(row-1, 2)
	for _, c := range currencies {
		s.Text(1, row, "total", plain)
		s.Text(3, row, c, plain)
		for i := range columns {
			column := xlsx.Column(i + from)
			total(s, i+from, row, fmt.Sprintf(`SUMIF($C$2:$C$%d,"%s",%s2:%[3]s%[1]d)`, last, c, column), c)
		}
		row++
	}
}

// payments lists what the bank paid and took, in parts by what it was for. Its last
// column of amounts adds up to the change of the bank account.
func (w *writer) payments(s *xlsx.Sheet, machines []*tally.Machine) {
	head(s, append([]string{"shop", "machine", "currency", "payment date", "payment reference", "entry",
		"claim day"}, tally.AmountColumns...))
	const first = 8 // column of amounts
	row := 2
	for _, m := range machines {
		for i := range m.Payments {
			p := &m.Payments[i]
			place(s, row, m)
			date(s, 4, row, p.Date, p.Name())
			s.Text(5, row, p.Ref, plain)
			s.Number(6, row, strconv.FormatInt(p.Entry, 10), plain)
			if p.ClaimDay != "" {
				date(s, 7, row, p.ClaimDay, string(p.ClaimDay))
			}
			for k, v := range p.Amounts() {
				s.Number(first+k, row, v.String(), amounts(m.Shop.Currency))
			}
			row++
		}
	}
	totals(s, row, first, len(tally.AmountColumns), machines)
}

// about says what the workbook is.
func (w *writer) about(machines []*tally.Machine) {
	s := w.Sheet(w.title("About"))
	rows := [][]string{{Note}, {"Differences that are not known yet are not part of their total."}}
	for _, m := range machines {
		rows = append(rows, []string{m.Shop.Name, m.Kit.Name, string(m.From), string(m.To), wordOf(m)})
	}
	for r, cells := range rows {
		for c, text := range cells {
			s.Text(c+1, r+1, text, plain)
		}
	}
}
