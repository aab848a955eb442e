// Package workbook writes days as an Office Open XML workbook (ISO/IEC 29500):
// dates and amounts as such, totals as formulas, one sheet for each machine, one for
// all, and one for what the bank paid and took. It is pure, and alone knows the library.
package workbook

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/shopspring/decimal"
	"github.com/xuri/excelize/v2"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
)

// Note is what the workbook says of itself.
const Note = "Figures as recorded by the shop. Fees are its own income as it was paid; " +
	"nothing here advises on tax."

// Write writes the machines' days. names gives the name of a person; nil: none.
func Write(to io.Writer, machines []*tally.Machine, names func(shop.PersonID) string) error {
	f := excelize.NewFile()
	defer func() { _ = f.Close() }()
	w := &writer{File: f, names: names, styles: map[string]int{}, taken: map[string]bool{},
		sums: map[column]decimal.Decimal{}}
	w.do(w.SetSheetName("Sheet1", w.title("All machines")))
	w.all(machines)
	payments := w.title("Payments") // before any machine takes the name
	for _, m := range machines {
		w.machine(m, w.title(sheetName(m, machines)))
	}
	w.payments(payments, machines)
	w.about(machines)
	w.WorkBook.CalcPr.FullCalcOnLoad = true
	if w.err != nil {
		return w.err
	}
	_, err := f.WriteTo(to)
	return err
}

type writer struct {
	*excelize.File
	names  func(shop.PersonID) string
	styles map[string]int
	taken  map[string]bool // names of sheets, in small letters
	sums   map[column]decimal.Decimal
	err    error
}

// column is the amounts of a currency below one another.
type column struct{ sheet, letters, currency string }

func columnOf(sheet, cell, currency string) column {
	return column{sheet, strings.TrimRight(cell, "0123456789"), currency}
}

// do keeps the first error.
func (w *writer) do(err error) {
	if w.err == nil {
		w.err = err
	}
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

// style gives the number of a cell style.
func (w *writer) style(format string, bold bool) int {
	key := fmt.Sprint(format, bold)
	if id, ok := w.styles[key]; ok {
		return id
	}
	s := &excelize.Style{Font: &excelize.Font{Bold: bold}}
	if format != "" {
		s.CustomNumFmt = &format
	}
	id, err := w.NewStyle(s)
	w.do(err)
	w.styles[key] = id
	return id
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

func at(column, row int) string {
	name, _ := excelize.CoordinatesToCellName(column, row) // both are above nothing
	return name
}

// head writes the columns' names and keeps them in sight.
func (w *writer) head(sheet string, columns []string) {
	for i, c := range columns {
		w.do(w.SetCellStr(sheet, at(i+1, 1), c))
	}
	w.do(w.SetCellStyle(sheet, at(1, 1), at(len(columns), 1), w.style("", true)))
	w.do(w.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2",
		ActivePane: "bottomLeft"}))
	for i, c := range columns {
		name, _ := excelize.ColumnNumberToName(i + 1)
		w.do(w.SetColWidth(sheet, name, name, wide(c)))
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
func (w *writer) amount(sheet, cell string, d decimal.Decimal, currency string) {
	w.do(w.SetCellDefault(sheet, cell, d.String()))
	w.do(w.SetCellStyle(sheet, cell, cell, w.style(amounts(currency), false)))
	of := columnOf(sheet, cell, currency)
	w.sums[of] = w.sums[of].Add(d)
}

// date writes a date as one, unless it is of a line of a month that was finished.
func (w *writer) date(sheet, cell string, date shop.Date, name string) {
	if string(date) != name {
		w.do(w.SetCellStr(sheet, cell, name))
		return
	}
	w.do(w.SetCellValue(sheet, cell, date.Time().In(time.UTC)))
	w.do(w.SetCellStyle(sheet, cell, cell, w.style(dates, false)))
}

// columns name the amounts of a day: those of the other files, what was given up, and the
// tax in the fees.
var columns = append(slices.Clip(tally.Columns), tally.PaymentColumns[tally.GivenUpColumn],
	tally.PaymentColumns[tally.TaxColumn])

// days writes the amounts of a day from a column on. A difference that is not
// known is no number.
func (w *writer) day(sheet string, column, row int, d *tally.Day, currency string) {
	for i, v := range append(d.Amounts(), d.GivenUp, d.Tax) {
		cell := at(column+i, row)
		if i == tally.VarianceColumn && d.Unknown {
			w.do(w.SetCellStr(sheet, cell, "not known"))
			continue
		}
		w.amount(sheet, cell, v, currency)
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

func (w *writer) machine(m *tally.Machine, sheet string) {
	_, err := w.NewSheet(sheet)
	w.do(err)
	w.head(sheet, append(append([]string{"date"}, columns...), "closed by", tally.NoteColumn))
	for i, d := range m.Days {
		w.date(sheet, at(1, i+2), d.Date, d.Name())
		w.day(sheet, 2, i+2, d, m.Shop.Currency)
		w.do(w.SetCellStr(sheet, at(2+len(columns), i+2), w.who(d)))
		w.do(w.SetCellStr(sheet, at(3+len(columns), i+2), d.Note()))
	}
	row := len(m.Days) + 2
	w.do(w.SetCellStr(sheet, at(1, row), "total "+m.Shop.Currency))
	for i := range columns {
		w.total(sheet, at(i+2, row), fmt.Sprintf("SUM(%s:%s)", at(i+2, 2), at(i+2, max(row-1, 2))), m.Shop.Currency)
	}
	w.do(w.SetCellStr(sheet, at(1, row+2), wordOf(m)))
}

// wordOf tells the check word, where it is known when the file is made.
func wordOf(m *tally.Machine) string {
	if m.Word == "" {
		return ""
	}
	return "check word " + m.Word
}

// total writes a formula with what it comes to, for viewers that do not reckon. Of the
// library's kinds of formula only this one leaves the number in the cell a number.
func (w *writer) total(sheet, cell, formula, currency string) {
	w.do(w.SetCellDefault(sheet, cell, w.sums[columnOf(sheet, cell, currency)].String()))
	kind := excelize.STCellFormulaTypeDataTable
	w.do(w.SetCellFormula(sheet, cell, formula, excelize.FormulaOpts{Type: &kind}))
	w.do(w.SetCellStyle(sheet, cell, cell, w.style(amounts(currency), true)))
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
func (w *writer) all(machines []*tally.Machine) {
	sheet := "All machines"
	w.head(sheet, append(append([]string{"shop", "machine", "currency", "date"}, columns...), tally.NoteColumn))
	row := 2
	for _, m := range machines {
		for _, d := range m.Days {
			w.place(sheet, row, m)
			w.date(sheet, at(4, row), d.Date, d.Name())
			w.day(sheet, 5, row, d, m.Shop.Currency)
			w.do(w.SetCellStr(sheet, at(5+len(columns), row), d.Note()))
			row++
		}
	}
	w.totals(sheet, row, 5, len(columns), machines)
}

// place says in the first columns of what machine and currency a row is.
func (w *writer) place(sheet string, row int, m *tally.Machine) {
	for i, s := range []string{m.Shop.Name, m.Kit.Name, m.Shop.Currency} {
		w.do(w.SetCellStr(sheet, at(i+1, row), s))
	}
}

// totals adds columns up below the last row, each currency by itself.
func (w *writer) totals(sheet string, row, from, columns int, machines []*tally.Machine) {
	var currencies []string
	for _, m := range machines {
		if !slices.Contains(currencies, m.Shop.Currency) {
			currencies = append(currencies, m.Shop.Currency)
		}
	}
	last := max(row-1, 2)
	for _, c := range currencies {
		w.do(w.SetCellStr(sheet, at(1, row), "total"))
		w.do(w.SetCellStr(sheet, at(3, row), c))
		for i := range columns {
			column := strings.TrimRight(at(i+from, 2), "0123456789")
			w.total(sheet, at(i+from, row), fmt.Sprintf(`SUMIF($C$2:$C$%d,"%s",%s2:%[3]s%[1]d)`, last, c, column), c)
		}
		row++
	}
}

// payments lists what the bank paid and took, in parts by what it was for. Its last
// column of amounts adds up to the change of the bank account.
func (w *writer) payments(sheet string, machines []*tally.Machine) {
	_, err := w.NewSheet(sheet)
	w.do(err)
	w.head(sheet, append([]string{"shop", "machine", "currency", "payment date", "payment reference", "entry",
		"claim day"}, tally.AmountColumns...))
	const first = 8 // column of amounts
	row := 2
	for _, m := range machines {
		for i := range m.Payments {
			p := &m.Payments[i]
			w.place(sheet, row, m)
			w.date(sheet, at(4, row), p.Date, p.Name())
			w.do(w.SetCellStr(sheet, at(5, row), p.Ref))
			w.do(w.SetCellInt(sheet, at(6, row), int(p.Entry)))
			if p.ClaimDay != "" {
				w.date(sheet, at(7, row), p.ClaimDay, string(p.ClaimDay))
			}
			for k, v := range p.Amounts() {
				w.amount(sheet, at(first+k, row), v, m.Shop.Currency)
			}
			row++
		}
	}
	w.totals(sheet, row, first, len(tally.AmountColumns), machines)
}

// about says what the workbook is.
func (w *writer) about(machines []*tally.Machine) {
	sheet := w.title("About")
	_, err := w.NewSheet(sheet)
	w.do(err)
	rows := [][]string{{Note}, {"Differences that are not known yet are not part of their total."}}
	for _, m := range machines {
		rows = append(rows, []string{m.Shop.Name, m.Kit.Name, string(m.From), string(m.To), wordOf(m)})
	}
	for r, cells := range rows {
		for c, s := range cells {
			w.do(w.SetCellStr(sheet, at(c+1, r+1), s))
		}
	}
}
