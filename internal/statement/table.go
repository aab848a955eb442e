package statement

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"errors"
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/headings"
	"shopfloat/internal/shop"
)

// Bounds of a table.
const (
	maxSample  = 200 // rows that say how columns are written
	maxColumns = 100
	maxRow     = 64 << 10 // bytes
)

// rows gives the rows of a table and keeps a field from growing without end.
type rows struct {
	in *budget
	*csv.Reader
}

func newRows(src *bufio.Reader, comma rune) *rows {
	in := &budget{r: src, left: maxRow}
	r := &rows{in: in, Reader: csv.NewReader(&row{budget: in})}
	r.Comma, r.LazyQuotes, r.FieldsPerRecord, r.TrimLeadingSpace = comma, true, -1, comma != '\t'
	return r
}

// row hands on what is left of the budget. Lines end as each program likes: with a
// carriage return, a line feed, or both.
type row struct {
	*budget
	returned bool // the byte before was a carriage return
}

func (r *row) Read(p []byte) (int, error) {
	if r.left <= 0 {
		return 0, errToken
	}
	n, err := r.r.Read(p[:min(len(p), r.left)])
	r.left -= n
	kept := p[:0]
	for _, c := range p[:n] {
		after := r.returned
		if r.returned = c == '\r'; r.returned {
			c = '\n'
		} else if after && c == '\n' {
			continue
		}
		kept = append(kept, c)
	}
	return len(kept), err
}

// next gives a row's fields without what is put around them to keep a
// spreadsheet from reading them as figures.
func (r *rows) next() ([]string, int, error) {
	r.in.left = maxRow
	rec, err := r.Read()
	if err != nil {
		if errors.Is(err, io.EOF) {
			return nil, 0, io.EOF
		}
		return nil, 0, asProblem(err)
	}
	if len(rec) > maxColumns {
		return nil, 0, &Problem{Code: TooDeep, About: "too many columns"}
	}
	no, _ := r.FieldPos(0)
	for i, f := range rec {
		f = strings.TrimSpace(f)
		if inner, ok := strings.CutPrefix(f, `="`); ok && strings.HasSuffix(inner, `"`) {
			f = strings.TrimSuffix(inner, `"`)
		}
		rec[i] = f
	}
	return rec, no, nil
}

// separator finds what parts the columns: what the first lines have most of, the
// same number in most of them.
func separator(head string) rune {
	lines := strings.Split(strings.ReplaceAll(head, "\r", "\n"), "\n")
	best, most := ',', 0
	for _, c := range []rune{';', '\t', ',', '|'} {
		counts := map[int]int{}
		for _, l := range lines {
			if n := strings.Count(l, string(c)); n > 0 {
				counts[n]++
			}
		}
		for n, times := range counts {
			if score := times * min(n, 8) * boundary(c); score > most {
				best, most = c, score
			}
		}
	}
	return best
}

// boundary weighs signs that also stand within amounts and texts less.
func boundary(c rune) int {
	if c == ',' {
		return 2
	}
	return 5
}

// csv reads a table. The first rows say how it is written; then it is read a row
// at a time.
func (r *reader) csv(src *bufio.Reader) error {
	head, err := src.Peek(headSize)
	if err != nil && !errors.Is(err, io.EOF) {
		return asProblem(err)
	}
	if !readable(head) {
		return problem(Unknown)
	}
	in := newRows(src, separator(string(head)))
	t := &table{reader: r, days: map[string]shop.Date{}}
	if err := t.sample(in); err != nil {
		return err
	}
	for _, s := range t.first {
		if err := t.row(s.fields, s.no); err != nil {
			return err
		}
	}
	t.first = nil
	for {
		fields, no, err := in.next()
		if errors.Is(err, io.EOF) {
			r.report.Balance = r.report.Balance.and(t.check())
			return nil
		}
		if err == nil {
			err = t.row(fields, no)
		}
		if err != nil {
			return err
		}
	}
}

// readable reports whether it is text for people.
func readable(head []byte) bool {
	odd := 0
	for _, c := range head {
		if c < ' ' && c != '\n' && c != '\r' && c != '\t' {
			odd++
		}
	}
	return odd*100 <= len(head)
}

type sampled struct {
	fields []string
	no     int
}

// table reads rows by a layout.
type table struct {
	*reader
	layout  *Layout
	account string // named above the table
	first   []sampled
	last    decimal.Decimal // balance of the row before
	amount  decimal.Decimal // of the row before
	rows    int
	up      bool // each balance is the one before and the row
	down    bool // each balance is the one after and the row
	signs   signs
	head    *Layout // by the headings alone
	coin    string  // the money that these name
	next    string  // account that was named since the last line

	columns []column             // of the layout
	days    map[string]shop.Date // that were read, by their text
}

type column struct {
	role Role
	at   int
}

// iban finds an account's number in the words above a table (ISO 13616).
var iban = regexp.MustCompile(`\b[A-Z]{2}\d{2}(?: ?[A-Z0-9]{4}){2,7}(?: ?[A-Z0-9]{1,4})?\b`)

// sample reads the first rows and decides on the layout.
func (t *table) sample(in *rows) error {
	var all []sampled
	for len(all) < maxSample {
		fields, no, err := in.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		if !blank(fields) {
			all = append(all, sampled{append([]string(nil), fields...), no})
		}
	}
	t.report.Format, t.report.Head = CSV, headOf(all)
	if known, ok := t.opt.Layouts[t.report.Head]; ok && t.opt.Layout == nil {
		t.opt.Layout = &known
	}
	layout, from, err := layoutOf(all, t.opt)
	if err != nil {
		t.report.Unsure = unsure(all, err)
		return err
	}
	t.report.Layout = layout
	t.layout, t.first, t.up, t.down = layout, all[from:], true, true
	for _, s := range all[:from] {
		if l := headed(s.fields); l != nil {
			t.head, t.coin = l, l.coin(s.fields)
		}
		if m := iban.FindString(strings.Join(s.fields, "  ")); m != "" {
			t.account = accountName(m)
		}
	}
	t.reader.account(t.account)
	for role, at := range layout.Columns {
		if role != ByAccount || t.own(at) {
			t.columns = append(t.columns, column{role, at})
		}
	}
	t.signs = t.signsOf(t.first)
	return nil
}

// own reports whether a column holds the account that the table is of, and not those at the
// other end: these are no one that is named above the table, or stand behind the names there and differ.
func (t *table) own(at int) bool {
	cells := cellsOf(t.first, at)
	if t.account != "" {
		above := func(s string) bool { return strings.Contains(t.account, accountName(s)) }
		return slices.ContainsFunc(cells, above)
	}
	name, named := t.layout.Columns[ByName]
	return !named || name > at || distinct(cells) < 2
}

func blank(fields []string) bool {
	for _, f := range fields {
		if f != "" {
			return false
		}
	}
	return true
}

func (t *table) cell(fields []string, role Role) string {
	for _, c := range t.columns {
		if c.role == role && c.at < len(fields) {
			return fields[c.at]
		}
	}
	return ""
}

// row makes a line of a row. Rows without a day and an amount are the bank's
// notes below the table.
func (t *table) row(fields []string, no int) error {
	if blank(fields) {
		return nil
	}
	day, amountless := t.cell(fields, ByDay), t.empty(fields)
	dated := t.days[day] != ""
	if !dated {
		_, dated = partsOf(day)
	}
	switch {
	case day == "", amountless && (!dated || t.cell(fields, ByBalance) != ""):
		return t.note(fields, no)
	case amountless:
		return about(BadAmount, "").at("row", no)
	case !digitsIn(day) && headed(fields) != nil:
		return t.note(fields, no)
	case t.rows > 0 && (len(fields) < t.layout.Width || !digitsIn(day)) && !dated:
		return t.note(fields, no)
	case len(fields) > t.layout.Width && digitsIn(strings.Join(fields[t.layout.Width:], "")):
		return problem(Ragged).at("row", no)
	}
	return t.take(fields, no)
}

// take hands over the line of a row, if it is booked.
func (t *table) take(fields []string, no int) error {
	l, err := t.read(fields)
	if err != nil {
		return atPlace(err, "row", no)
	}
	if headings.Pending(t.cell(fields, ByStatus)) {
		t.report.Pending++
		return nil
	}
	t.balances(&l)
	t.reader.account(l.Account)
	t.next = ""
	return t.line(l)
}

// note looks at a row that is no line: it may head the table of another account, whose
// number was named above it.
func (t *table) note(fields []string, no int) error {
	if m := iban.FindString(strings.Join(fields, "  ")); m != "" {
		t.next = accountName(m)
	}
	l := headed(fields)
	switch {
	case l == nil:
		return nil
	case t.head != nil && !maps.Equal(l.Columns, t.head.Columns):
		return problem(Another).at("row", no)
	case t.next != "":
		t.account = t.next
		t.reader.account(t.account)
		t.report.Balance = t.report.Balance.and(t.check())
		t.rows, t.up, t.down = 0, true, true
	}
	return nil
}

func (t *table) empty(fields []string) bool {
	return t.cell(fields, ByAmount) == "" && t.cell(fields, ByCredit) == "" && t.cell(fields, ByDebit) == ""
}

func (t *table) read(fields []string) (Line, error) {
	l := Line{Account: accountName(t.cell(fields, ByAccount)), Ref: plain(t.cell(fields, ByRef), 80),
		Name: plain(t.cell(fields, ByName), 70), Text: plain(t.cell(fields, ByText), textMax),
		Currency: strings.ToUpper(clip(t.cell(fields, ByCurrency), 3)), Loose: true}
	if l.Account == "" {
		l.Account = t.account
	}
	var err error
	if l.Day, err = t.day(t.cell(fields, ByDay)); err != nil {
		return l, err
	}
	if v := t.cell(fields, ByValueDay); v != "" {
		if l.Value, err = t.day(v); err != nil {
			return l, err
		}
	}
	if l.Amount, err = t.money(fields); err != nil {
		return l, err
	}
	for _, role := range sums {
		l.Currency = cmp.Or(l.Currency, coinOf(t.cell(fields, role)))
	}
	l.Currency = cmp.Or(l.Currency, t.coin)
	if b := t.cell(fields, ByBalance); b != "" {
		l.Balance, err = t.figure(b)
		l.Balanced = err == nil
	}
	return l, err
}

// balances follows the balance from row to row. Tables run either way.
func (t *table) balances(l *Line) {
	if !l.Balanced {
		t.up, t.down = false, false
		t.last, t.rows = decimal.Zero, t.rows+1
		return
	}
	if t.rows > 0 {
		t.up = t.up && t.last.Add(l.Amount).Equal(l.Balance)
		t.down = t.down && l.Balance.Add(t.amount).Equal(t.last)
	}
	t.last, t.amount, t.rows = l.Balance, l.Amount, t.rows+1
}

func (t *table) check() Check {
	if _, ok := t.layout.Columns[ByBalance]; !ok || t.rows < 2 {
		return Unchecked
	}
	if t.up || t.down {
		return Agrees
	}
	return Differs
}
