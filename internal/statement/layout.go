package statement

import (
	"maps"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/headings"
	"shopfloat/internal/shop"
)

// Layout is how the columns of a bank's tables are understood, to be remembered
// for the next one. It is good as JSON.
type Layout struct {
	Columns map[Role]int `json:"columns"` // from 0
	Dates   Order        `json:"dates"`
	Point   string       `json:"point"` // before decimals
	Width   int          `json:"width"` // columns in all

	heads map[Role][]int // all columns that are headed so; for no role those whose heading is not known
}

// layoutOf understands a table by its headings, or by what its columns hold, and
// says at which row the lines begin.
func layoutOf(rows []sampled, opt Options) (*Layout, int, error) {
	l, from := byHeadings(rows)
	if opt.Said != nil {
		l, from = bySaid(rows, opt.Said)
	}
	if known := opt.Layout; known != nil && fits(known, rows[from:]) {
		for l == nil && from < len(rows)-1 && !known.reads(rows[from].fields) {
			from++ // words above the lines, which are no headings that are known
		}
		return known.pointed(rows[from:], opt.Currency), from, nil
	}
	if l == nil {
		l, from = byContent(rows)
	}
	if l == nil {
		return nil, 0, missing(rows)
	}
	body := rows[from:]
	if len(body) == 0 {
		l.Dates, l.Point = DayFirst, "."
		return l, from, nil
	}
	order, err := orderOf(columnOf(body, l, ByDay), opt.Dates)
	if err != nil {
		return nil, 0, err
	}
	point, _, err := l.point(body, opt.Currency)
	l.Dates, l.Point = order, string(point)
	return l, from, err
}

// point finds what parts decimals in the amounts of a table.
func (l *Layout) point(rows []sampled, currency string) (byte, bool, error) {
	var amounts []string
	for _, role := range []Role{ByAmount, ByCredit, ByDebit, ByBalance} {
		amounts = append(amounts, columnOf(rows, l, role)...)
	}
	if named := columnOf(rows, l, ByCurrency); len(named) > 0 {
		currency = named[0]
	}
	money, err := cashmath.LookupCurrency(strings.ToUpper(currency))
	if err != nil {
		return pointOf(amounts, usualDecimals)
	}
	return pointOf(amounts, money.Digits())
}

// usualDecimals is how many decimals most money has.
const usualDecimals = 2

// pointed is a remembered layout with the sign for decimals that a table shows: the
// one before may have had none.
func (l *Layout) pointed(rows []sampled, currency string) *Layout {
	if point, sure, err := l.point(rows, currency); err == nil && sure && string(point) != l.Point {
		other := *l
		other.Point = string(point)
		return &other
	}
	return l
}

// missing says which column was not found.
func missing(rows []sampled) error {
	if len(rows) == 0 {
		return problem(Empty)
	}
	for _, s := range rows {
		for _, f := range s.fields {
			if r, like := headings.Of(f); like == headings.Itself && r == ByDay {
				return &Problem{Code: NoColumns, About: "the amount"}
			}
		}
	}
	if len(rows[0].fields) < 2 {
		return problem(Unknown)
	}
	return &Problem{Code: NoColumns, About: "the day and the amount"}
}

// fits reports whether a remembered layout reads the first rows of a table.
func fits(l *Layout, rows []sampled) bool {
	good := 0
	for _, s := range rows {
		if len(s.fields) > l.Width+1 {
			return false
		}
		i, ok := l.Columns[ByDay]
		if !ok || i >= len(s.fields) {
			continue
		}
		p, ok := partsOf(s.fields[i])
		if !ok {
			continue
		}
		if _, ok := p.in(l.Dates); !ok {
			return false
		}
		good++
	}
	return good > 0
}

// byHeadings finds the row that heads the table: the one with a day and an
// amount among its headings.
func byHeadings(rows []sampled) (*Layout, int) {
	for i, s := range rows {
		if l := headed(s.fields); l != nil {
			l.settle(rows[i+1:])
			return l, i + 1
		}
	}
	return nil, 0
}

// headed finds the columns of a row that heads a table; nil: it does not.
func headed(fields []string) *Layout {
	l := &Layout{Columns: map[Role]int{}, Width: len(fields), heads: map[Role][]int{}}
	best := map[Role]headings.Likeness{}
	for c, f := range fields {
		role, like := headings.Of(f)
		if like > best[role] {
			l.Columns[role], best[role] = c, like
		}
		l.heads[role] = append(l.heads[role], c)
	}
	if !l.complete() {
		return nil
	}
	return l
}

// complete reports whether day and money have their columns. A value day does
// where there is no other.
func (l *Layout) complete() bool {
	if v, ok := l.Columns[ByValueDay]; ok {
		if _, has := l.Columns[ByDay]; !has {
			l.Columns[ByDay] = v
			delete(l.Columns, ByValueDay)
		}
	}
	_, day := l.Columns[ByDay]
	_, amount := l.Columns[ByAmount]
	_, credit := l.Columns[ByCredit]
	_, debit := l.Columns[ByDebit]
	return day && (amount || credit && debit)
}

// findState finds the column that says of each row whether it is booked, where some row is not
// and no heading that is known says which it is.
func (l *Layout) findState(rows []sampled) {
	if _, known := l.Columns[ByStatus]; known {
		return
	}
	for c := range l.Width {
		cells := cellsOf(rows, c)
		other := func(s string) bool { return !headings.Pending(s) && !headings.Booked(s) }
		if slices.ContainsFunc(cells, headings.Pending) && !slices.ContainsFunc(cells, other) {
			l.Columns[ByStatus] = c
			return
		}
	}
}

// findText finds the column of words: of those that are headed so the one that says most, else of
// those whose heading is not known.
func (l *Layout) findText(rows []sampled) {
	list, most := l.heads[ByText], 0
	headed := len(list) > 0
	if !headed {
		list = l.heads[""]
	}
	taken := slices.Collect(maps.Values(l.Columns))
	for _, c := range list {
		if !headed && slices.Contains(taken, c) {
			continue
		}
		said := 0
		for _, s := range cellsOf(rows, c) {
			if _, num := bareAmount(s); !num {
				said += len(s)
			}
		}
		if said > most {
			most, l.Columns[ByText] = said, c
		}
	}
}

// settle drops columns that do not hold what their heading may mean: a type that
// is no sign, "valuta" that is a day or a currency, an amount beside its parts.
func (l *Layout) settle(rows []sampled) {
	l.findState(rows)
	l.findText(rows)
	if _, ok := l.Columns[ByAmount]; ok {
		delete(l.Columns, ByCredit)
		delete(l.Columns, ByDebit)
		for _, s := range columnOf(rows, l, BySign) {
			if headings.Sign(s) == 0 {
				delete(l.Columns, BySign)
				break
			}
		}
		l.findSigns(rows)
	}
	days := columnOf(rows, l, ByValueDay)
	for _, s := range days {
		if _, ok := partsOf(s); !ok {
			if _, has := l.Columns[ByCurrency]; !has && len(s) == 3 {
				l.Columns[ByCurrency] = l.Columns[ByValueDay]
			}
			delete(l.Columns, ByValueDay)
			break
		}
	}
}

// findSigns finds the column of signs by what it holds, where no amount has a sign of
// its own and no heading that is known says which it is.
func (l *Layout) findSigns(rows []sampled) {
	if _, ok := l.Columns[BySign]; ok {
		return
	}
	for _, s := range columnOf(rows, l, ByAmount) {
		if a, ok := bareAmount(s); ok && (a.minus || a.debit || a.credit) {
			return
		}
	}
	for c := range l.Width {
		if cells := cellsOf(rows, c); onlySigns(cells) {
			l.Columns[BySign] = c
			return
		}
	}
}

// onlySigns reports whether every cell says in or out, and some say out.
func onlySigns(cells []string) bool {
	out := false
	for _, s := range cells {
		sign := headings.Sign(s)
		if sign == 0 {
			return false
		}
		out = out || sign < 0
	}
	return out
}

// columnOf gives what a column holds, empty cells left out.
func columnOf(rows []sampled, l *Layout, role Role) []string {
	i, ok := l.Columns[role]
	if !ok {
		return nil
	}
	return cellsOf(rows, i)
}

func cellsOf(rows []sampled, column int) (list []string) {
	for _, s := range rows {
		if column < len(s.fields) && s.fields[column] != "" {
			list = append(list, s.fields[column])
		}
	}
	return list
}

// byContent understands a table without headings: the first column of days, the
// first of amounts with decimals, a second one as the balance where it fits.
func byContent(rows []sampled) (*Layout, int) {
	if len(rows) == 0 {
		return nil, 0
	}
	width := len(rows[0].fields)
	l := &Layout{Columns: map[Role]int{}, Width: width}
	var money []int
	longest, text := 0, -1
	for c := range width {
		days, amounts, letters := 0, 0, 0
		for _, s := range rows {
			if c >= len(s.fields) {
				return nil, 0
			}
			f := s.fields[c]
			if _, ok := partsOf(f); ok {
				days++
			} else if a, ok := bareAmount(f); ok && strings.ContainsAny(a.body, ".,") {
				amounts++
			} else {
				letters += len(f)
			}
		}
		_, have := l.Columns[ByDay]
		switch {
		case days == len(rows) && !have:
			l.Columns[ByDay] = c
		case amounts == len(rows):
			money = append(money, c)
		case letters > longest:
			longest, text = letters, c
		}
	}
	if text >= 0 {
		l.Columns[ByText] = text
	}
	return l.withMoney(money)
}

func (l *Layout) withMoney(columns []int) (*Layout, int) {
	if _, ok := l.Columns[ByDay]; !ok || len(columns) == 0 || len(columns) > 2 {
		return nil, 0
	}
	if l.Columns[ByAmount] = columns[0]; len(columns) == 2 {
		l.Columns[ByBalance] = columns[1]
	}
	return l, 0
}

func (t *table) day(s string) (shop.Date, error) {
	if d, ok := t.days[s]; ok {
		return d, nil
	}
	if p, ok := partsOf(s); ok {
		if d, ok := p.in(t.layout.Dates); ok {
			if len(t.days) < maxSample {
				t.days[s] = d
			}
			return d, nil
		}
	}
	if isFormula(s) {
		return "", about(Formula, s)
	}
	return "", about(BadDate, s)
}

func (t *table) figure(s string) (decimal.Decimal, error) {
	if isFormula(s) {
		return decimal.Zero, about(Formula, s)
	}
	return amountWith(s, t.layout.Point[0])
}

// isFormula reports whether a spreadsheet would reckon with the cell.
func isFormula(s string) bool {
	return s != "" && (s[0] == '=' || s[0] == '@') ||
		len(s) > 1 && (s[0] == '+' || s[0] == '-') && strings.ContainsAny(s[1:], "+*/(!")
}
