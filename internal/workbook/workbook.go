// Package workbook writes days as an Office Open XML workbook (ISO/IEC 29500):
// dates and amounts as such, totals as formulas, one sheet for each machine, one for
// all, and one for what the bank paid and took. It is pure, and alone knows the format.
package workbook

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
)

// Note is what the workbook says of itself.
const Note = "Figures as recorded by the shop. Fees are its own income as it was paid; " +
	"nothing here advises on tax."

// Write writes the machines' days. names gives the name of a person; nil: none.
func Write(to io.Writer, machines []*tally.Machine, names func(shop.PersonID) string) error {
	w := &writer{file: newFile(), names: names, taken: map[string]bool{}, sums: map[column]decimal.Decimal{}}
	w.all(w.add(w.title("All machines")), machines)
	payments := w.title("Payments") // before any machine takes the name
	for _, m := range machines {
		w.machine(w.add(w.title(sheetName(m, machines))), m)
	}
	w.payments(w.add(payments), machines)
	w.about(w.add(w.title("About")), machines)
	return w.write(to)
}

type writer struct {
	*file
	names func(shop.PersonID) string
	taken map[string]bool // names of sheets, in small letters
	sums  map[column]decimal.Decimal
}

// column is the amounts of a currency below one another.
type column struct {
	sheet    *sheet
	number   int
	currency string
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
func amounts(currency string) string {
	c, err := cashmath.LookupCurrency(currency)
	if err != nil || c.Digits() == 0 {
		return "#,##0"
	}
	return "#,##0." + strings.Repeat("0", int(c.Digits()))
}

const dates = "yyyy-mm-dd"

// head writes the columns' names and keeps them in sight.
func (w *writer) head(s *sheet, columns []string) {
	for i, c := range columns {
		w.text(s, i+1, 1, c, true)
		s.widths = append(s.widths, wide(c))
	}
}

// named are the columns that hold names and references.
var named = []string{"shop", "machine", "payment reference", "closed by", tally.NoteColumn}

// wide is how wide a column is, in letters: its head and what stands in it are read whole.
func wide(head string) float64 {
	if slices.Contains(named, head) {
		return 26
	}
	return float64(max(13, utf8.RuneCountInString(head)+2))
}

// amount writes a number as its digits, so that it is the very same.
func (w *writer) amount(s *sheet, at, row int, d decimal.Decimal, currency string) {
	w.value(s, at, row, d.String(), amounts(currency))
	of := column{s, at, currency}
	w.sums[of] = w.sums[of].Add(d)
}

// dated writes a day as a date, unless it is of a line of a month that was finished.
func (w *writer) dated(s *sheet, at, row int, date shop.Date, name string) {
	if string(date) != name {
		w.text(s, at, row, name, false)
		return
	}
	w.date(s, at, row, date)
}

// columns name the amounts of a day: those of the other files, what was given up, and the
// tax in the fees.
var columns = append(slices.Clip(tally.Columns), tally.PaymentColumns[tally.GivenUpColumn],
	tally.PaymentColumns[tally.TaxColumn])

// day writes the amounts of a day from a column on. A difference that is not
// known is no number.
func (w *writer) day(s *sheet, from, row int, d *tally.Day, currency string) {
	for i, v := range append(d.Amounts(), d.GivenUp, d.Tax) {
		if i == tally.VarianceColumn && d.Unknown {
			w.text(s, from+i, row, "not known", false)
			continue
		}
		w.amount(s, from+i, row, v, currency)
	}
}

// sheetName tells the machines of several shops apart, which often are called alike.
func sheetName(m *tally.Machine, all []*tally.Machine) string {
	elsewhere := func(o *tally.Machine) bool { return o.Shop != m.Shop }
	beside := func(o *tally.Machine) bool { return o != m && o.Shop == m.Shop }
	switch {
	case !slices.ContainsFunc(all, elsewhere):
		return m.Kit.Name
	case slices.ContainsFunc(all, beside):
		return m.Shop.Name + ", " + m.Kit.Name
	}
	return m.Shop.Name
}

func (w *writer) machine(s *sheet, m *tally.Machine) {
	w.head(s, append(append([]string{"date"}, columns...), "closed by", tally.NoteColumn))
	for i, d := range m.Days {
		w.dated(s, 1, i+2, d.Date, d.Name())
		w.day(s, 2, i+2, d, m.Shop.Currency)
		w.text(s, 2+len(columns), i+2, w.who(d), false)
		w.text(s, 3+len(columns), i+2, d.Note(), false)
	}
	row := len(m.Days) + 2
	w.text(s, 1, row, "total "+m.Shop.Currency, false)
	for i := range columns {
		w.total(s, i+2, row, fmt.Sprintf("SUM(%s:%s)", at(i+2, 2), at(i+2, max(row-1, 2))), m.Shop.Currency)
	}
	w.text(s, 1, row+2, wordOf(m), false)
}

// wordOf tells the check word, where it is known when the file is made.
func wordOf(m *tally.Machine) string {
	if m.Word == "" {
		return ""
	}
	return "check word " + m.Word
}

// total writes a formula with what it comes to, for viewers that do not reckon.
func (w *writer) total(s *sheet, at, row int, formula, currency string) {
	w.formula(s, at, row, formula, w.sums[column{s, at, currency}].String(), amounts(currency))
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
func (w *writer) all(s *sheet, machines []*tally.Machine) {
	w.head(s, append(append([]string{"shop", "machine", "currency", "date"}, columns...), tally.NoteColumn))
	row := 2
	for _, m := range machines {
		for _, d := range m.Days {
			w.place(s, row, m)
			w.dated(s, 4, row, d.Date, d.Name())
			w.day(s, 5, row, d, m.Shop.Currency)
			w.text(s, 5+len(columns), row, d.Note(), false)
			row++
		}
	}
	w.totals(s, row, 5, len(columns), machines)
}

// place says in the first columns of what machine and currency a row is.
func (w *writer) place(s *sheet, row int, m *tally.Machine) {
	for i, name := range []string{m.Shop.Name, m.Kit.Name, m.Shop.Currency} {
		w.text(s, i+1, row, name, false)
	}
}

// totals adds columns up below the last row, each currency by itself.
func (w *writer) totals(s *sheet, row, from, columns int, machines []*tally.Machine) {
	var currencies []string
	for _, m := range machines {
		if !slices.Contains(currencies, m.Shop.Currency) {
			currencies = append(currencies, m.Shop.Currency)
		}
	}
	last := max(row-1, 2)
	for _, c := range currencies {
		w.text(s, 1, row, "total", false)
		w.text(s, 3, row, c, false)
		for i := range columns {
			w.total(s, i+from, row, fmt.Sprintf(`SUMIF($C$2:$C$%d,"%s",%s2:%[3]s%[1]d)`, last, c, letters(i+from)), c)
		}
		row++
	}
}

// payments lists what the bank paid and took, in parts by what it was for. Its last
// column of amounts adds up to the change of the bank account.
func (w *writer) payments(s *sheet, machines []*tally.Machine) {
	w.head(s, append([]string{"shop", "machine", "currency", "payment date", "payment reference", "entry",
		"claim day"}, tally.AmountColumns...))
	const first = 8 // column of amounts
	row := 2
	for _, m := range machines {
		for i := range m.Payments {
			p := &m.Payments[i]
			w.place(s, row, m)
			w.dated(s, 4, row, p.Date, p.Name())
			w.text(s, 5, row, p.Ref, false)
			w.value(s, 6, row, strconv.FormatInt(p.Entry, 10), "")
			if p.ClaimDay != "" {
				w.date(s, 7, row, p.ClaimDay)
			}
			for k, v := range p.Amounts() {
				w.amount(s, first+k, row, v, m.Shop.Currency)
			}
			row++
		}
	}
	w.totals(s, row, first, len(tally.AmountColumns), machines)
}

// about says what the workbook is.
func (w *writer) about(s *sheet, machines []*tally.Machine) {
	rows := [][]string{{Note}, {"Differences that are not known yet are not part of their total."}}
	for _, m := range machines {
		rows = append(rows, []string{m.Shop.Name, m.Kit.Name, string(m.From), string(m.To), wordOf(m)})
	}
	for r, cells := range rows {
		for c, text := range cells {
			w.text(s, c+1, r+1, text, false)
		}
	}
}
