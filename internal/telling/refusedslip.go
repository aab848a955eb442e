package telling

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/lines"
)

// RefusedSlip says what a slip tells of refused notes where others were found: paid is what was
// paid out by kind, or in all where only that is known.
func RefusedSlip(t *Teller, p *books.Period, paid []int64, total decimal.NullDecimal, refused int64) string {
	list := t.V.Money(total.Decimal)
	if !total.Valid {
		var notes []string
		for _, n := range paid {
			notes = append(notes, t.V.Number(n))
		}
		list = strings.Join(notes, ", ")
	}
	say, found := "slip-refused", t.V.Say("none-found")
	if p.Has(books.NoTray) {
		say = "slip-refused-unlooked"
	} else if some := lines.Together(p.Tray); some > 0 {
		found = strconv.FormatInt(some, 10)
	}
	return t.V.Say(say, "paid", list, "notes", t.V.Number(refused), "found", found)
}
