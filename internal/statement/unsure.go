package statement

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"maps"
	"strconv"
	"strings"

	"shopfloat/internal/headings"
	"shopfloat/internal/shop"
)

// Unsure is what a table leaves open, with what a person needs to see to say it.
type Unsure struct {
	Dates   string    `json:"dates,omitempty"`   // a date that can be read two ways; empty: they are known
	Day     shop.Date `json:"day,omitempty"`     // with the day first
	Month   shop.Date `json:"month,omitempty"`   // with the month first
	Columns []string  `json:"columns,omitempty"` // what stands in each column, where day or amount are not known
}

// shownMax bounds what is shown of a column, in letters.
const shownMax = 24

// unsure says what has to be asked about a table that was not understood; nil:
// nothing that would help.
func unsure(all []sampled, err error) *Unsure {
	var p *Problem
	if !errors.As(err, &p) {
		return nil
	}
	switch p.Code {
	case DateOrder:
		date, _ := strconv.Unquote(p.About)
		u := &Unsure{Dates: date}
		if parts, ok := partsOf(date); ok {
			u.Day, _ = parts.in(DayFirst)
			u.Month, _ = parts.in(MonthDay)
		}
		return u
	case NoColumns:
		return &Unsure{Columns: columnsOf(all)}
	}
	return nil
}

// columnsOf shows what stands in the columns of the first full row and of one below.
func columnsOf(all []sampled) []string {
	head := widest(all)
	if head < 0 || len(all[head].fields) < 2 {
		return nil
	}
	list := make([]string, 0, len(all[head].fields))
	for c, f := range all[head].fields {
		shown := clip(f, shownMax)
		for _, s := range all[head+1:] {
			if c < len(s.fields) && s.fields[c] != "" {
				shown = strings.TrimSpace(shown + " " + clip(s.fields[c], shownMax))
				break
			}
		}
		list = append(list, plain(shown, 2*shownMax+1))
	}
	return list
}

// widest finds the first of the rows that have most columns.
func widest(all []sampled) int {
	best := -1
	for i, s := range all {
		if best < 0 || len(s.fields) > len(all[best].fields) {
			best = i
		}
	}
	return best
}

// headOf is by what tables of one bank are known again: the words that head the
// columns; where there are none, how many columns there are.
func headOf(all []sampled) string {
	i := widest(all)
	if i < 0 {
		return ""
	}
	words := []string{strconv.Itoa(len(all[i].fields))}
	for _, f := range all[i].fields {
		if _, ok := partsOf(f); ok {
			words = words[:1] // figures change from file to file
			break
		}
		words = append(words, headings.Folded(f))
	}
	sum := sha256.Sum256([]byte(strings.Join(words, "\x00")))
	return hex.EncodeToString(sum[:8])
}

// bySaid understands a table by the columns that a person named: the lines begin
// where those of day and amount hold such. Words are the longest of the others.
func bySaid(rows []sampled, said map[Role]int) (*Layout, int) {
	l := &Layout{Columns: maps.Clone(said)}
	if !l.complete() {
		return nil, 0
	}
	for i, s := range rows {
		if !l.reads(s.fields) {
			continue
		}
		l.Width = len(s.fields)
		longest := 0
		for c, f := range s.fields {
			if _, num := bareAmount(f); len(f) > longest && !num && c != said[ByDay] {
				longest, l.Columns[ByText] = len(f), c
			}
		}
		return l, i
	}
	return nil, 0
}

// reads reports whether a row has a day and an amount where they are said to be.
func (l *Layout) reads(fields []string) bool {
	day, money := l.Columns[ByDay], false
	if day >= len(fields) {
		return false
	}
	if _, ok := partsOf(fields[day]); !ok {
		return false
	}
	for _, role := range []Role{ByAmount, ByCredit, ByDebit} {
		if c, ok := l.Columns[role]; ok && c < len(fields) {
			_, is := bareAmount(fields[c])
			money = money || is
		}
	}
	return money
}
