package dialogs

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// columns lines up rows for a fixed-width font: the first columns to the left,
// the rest to the right. Trailing blanks are cut.
func columns(left int, rows [][]string) Block {
	var width []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	lines := make([]string, 0, len(rows))
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			if i > 0 {
				b.WriteString("  ")
			}
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			if i < left {
				b.WriteString(cell + pad)
			} else {
				b.WriteString(pad + cell)
			}
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return Block{Text: strings.Join(lines, "\n"), Fixed: true}
}

// countTable shows lines with their notes and money, and the total below.
func (c *talk) countTable(lines []line, v []int64) (Block, decimal.Decimal) {
	var total decimal.Decimal
	rows := make([][]string, 0, len(lines)+1)
	for i, l := range lines {
		if v[i] < 0 {
			continue
		}
		money := cashmath.Value(l.face, v[i])
		total = total.Add(money)
		row := []string{c.v.Kind(l.face), c.v.Count("notes", v[i]), c.v.Money(money)}
		if l.box > 0 {
			row = append([]string{c.boxShort(l.box)}, row...)
		}
		rows = append(rows, row)
	}
	if len(rows) > 1 {
		last := make([]string, len(rows[0]))
		last[len(last)-1] = c.v.Money(total)
		rows = append(rows, last)
	}
	left := 1
	if len(lines) > 0 && lines[0].box > 0 {
		left = 2
	}
	return columns(left, rows), total
}

// boxShort names a box in a table.
func (c *talk) boxShort(position int) string {
	switch n := len(c.boxes()); {
	case n == 1:
		return c.v.Say("box-short.only")
	case position == 1:
		return c.v.Say("box-short.top")
	case position == n:
		return c.v.Say("box-short.bottom")
	case n == 3:
		return c.v.Say("box-short.middle")
	}
	return c.v.Say("box-short.number", "n", position)
}

// lock reminds of the safe, unless what is told happened earlier.
func (c *talk) lock() string {
	if !c.State.Draft.Happened.IsZero() {
		return ""
	}
	return c.v.Say("lock")
}

// upper begins a sentence with a capital letter.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// sum adds up counts.
func sum(v []int64) int64 {
	var n int64
	for _, x := range v {
		n += max(x, 0)
	}
	return n
}

// text makes a block of plain lines.
func text(lines ...string) Block {
	var kept []string
	for _, l := range lines {
		if l != "" {
			kept = append(kept, l)
		}
	}
	return Block{Text: strings.Join(kept, "\n")}
}
