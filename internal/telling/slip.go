package telling

import (
	"cmp"
	"strings"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
)

// slipHead names the slip of a record, with its day where that is not the one its period
// began on: it is booked under its own.
func slipHead(t *Teller, r books.Record) string {
	day, p := RecordDay(t, r), t.M.Period(r.Period)
	if p == nil || day == t.DayOf(p) {
		return t.V.Say("slip-head")
	}
	return t.V.Say("slip-of", "day", t.DayYear(day))
}

// SlipTyped reads printed figures back in a line that are to be recorded.
func SlipTyped(t *Teller, r books.Record) string {
	slip := slipHead(t, r)
	if len(r.Amounts) > 0 {
		return t.V.Say("verdict.slip-total", "slip", slip, "money", t.V.Money(amount(r, books.PaidOut)),
			"back", t.V.Money(amount(r, books.Cancelled)))
	}
	paid := books.NotesIn(r.Figures, books.PaidOut, books.LastSeen)
	back := books.NotesIn(r.Figures, books.Cancelled)
	none := t.V.Say("none-typed")
	return t.V.Say("verdict.slip", "slip", slip, "notes", cmp.Or(t.Notes(paid), none),
		"money", t.V.Money(paid.Value()), "back", cmp.Or(t.Notes(back), none))
}

func amount(r books.Record, field books.Field) (sum decimal.Decimal) {
	for _, a := range r.Amounts {
		if a.Field == field {
			sum = sum.Add(a.Value)
		}
	}
	return sum
}

// SlipTable lines the same up, a figure a line; without the word for notes where that would be too wide.
func SlipTable(t *Teller, r books.Record) chat.Block {
	table := slipTable(t, r, func(n int64) string { return t.V.Count("notes", n) })
	line, _, _ := strings.Cut(table.Text, "\n") // all are as wide
	if utf8.RuneCountInString(line) > phoneWide {
		table = slipTable(t, r, t.V.Number)
	}
	return table
}

// phoneWide is how many letters of a table a phone shows side by side. Common practice, no source.
const phoneWide = 42

func slipTable(t *Teller, r books.Record, notes func(int64) string) chat.Block {
	rows := [][]string{}
	for _, f := range r.Figures {
		rows = append(rows, []string{t.V.Say("field." + string(f.Field)), t.V.Kind(f.Face), notes(f.Notes),
			t.V.Money(cashmath.Value(f.Face, f.Notes))})
	}
	for _, a := range r.Amounts {
		rows = append(rows, []string{t.V.Say("field." + string(a.Field)), "", "", t.V.Money(a.Value)})
	}
	return chat.Columns(2, rows)
}
