package bygone

import (
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// monthName words a month like 2026-11.
func monthName(t *telling.Teller, month string) string {
	first := shop.Date(month + "-01").Time()
	return t.V.Say("month."+strconv.Itoa(int(first.Month()))) + " " + strconv.Itoa(first.Year())
}

// MonthOpen lists what is open in a month that is to be finished, and says what
// that means.
func MonthOpen(t *telling.Teller, month string) []chat.Block {
	first := shop.Date(month + "-01")
	last := shop.DateOf(first.Time().AddDate(0, 1, -1))
	lines := []string{t.V.Say("month.ending", "month", monthName(t, month))}
	open, total := int64(0), &tally.Day{}
	if m, err := Past(t, first, last); err == nil {
		for _, d := range m.Days {
			if d.Unknown {
				open++
			}
		}
		total = tally.Total(m.Days)
	}
	if open > 0 {
		lines = append(lines, t.V.Count("month.unknown", open))
	}
	if owed := total.Open(); !owed.IsZero() {
		lines = append(lines, t.V.Say("month.owed", "money", t.V.Money(owed)))
	}
	loose := int64(0)
	for _, l := range t.M.Loose {
		if at := shop.DateOf(t.Local(l.Happened)); first <= at && at <= last && l.As != books.Foreign {
			loose++
		}
	}
	if loose > 0 {
		lines = append(lines, t.V.Count("month.loose", loose))
	}
	if len(lines) == 1 {
		lines = append(lines, t.V.Say("month.nothing-open"))
	}
	if len(t.F.Shop.Machines) > 1 {
		lines = append(lines, t.V.Say("month.all-machines"))
	}
	return []chat.Block{chat.Lines(append(lines, t.V.Say("month.after"))...)}
}

// MonthFinished tells that a month is finished, with the check word of all until then.
func MonthFinished(t *telling.Teller, month string) []chat.Block {
	return []chat.Block{chat.Lines(
		t.V.Say("month.finished", "month", monthName(t, month), "who", t.F.Person.Name),
		t.V.Say("note.check", "word", chat.CheckMark), t.V.Say("month.after"))}
}
