package bygone

import (
	"slices"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// monthName words a month like 2026-11.
func monthName(t *telling.Teller, month string) string {
	first := shop.Date(month + "-01").Time()
	return t.V.Say("month."+strconv.Itoa(int(first.Month()))) + " " + strconv.Itoa(first.Year())
}

// FinishedAs tells how a month of the shop was finished; nil: it was not.
func FinishedAs(t *telling.Teller, month string) *shop.Finished {
	if t.F.Ask.Finished == nil {
		return nil
	}
	list := t.F.Ask.Finished()
	i := slices.IndexFunc(list, func(f shop.Finished) bool { return f.Month == month })
	if i < 0 {
		return nil
	}
	return &list[i]
}

// MonthOf reads the name of a month that has been or is under way; none is this one.
func MonthOf(t *telling.Teller, s string) (from, to shop.Date, ok bool) {
	today := t.Today().Time()
	m, why := when.Month{Year: today.Year(), Month: today.Month()}, when.OK
	if s != "" {
		m, why = telling.Reader(t).Month(s, when.Back)
	}
	return m.First(), m.Last(), why == when.OK
}

// MonthOpen lists what is open in a month that is to be finished, and says what
// that means.
func MonthOpen(t *telling.Teller, month string) []chat.Block {
	first := shop.Date(month + "-01")
	last := shop.DateOf(first.Time().AddDate(0, 1, -1))
	lines := []string{t.V.Say("month.ending", "month", monthName(t, month))}
	if m, err := Past(t, first, last); err == nil {
		lines = append(lines, daysOpen(t, m.Days)...)
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

// daysOpen tells what is not known of days, and what is still to come for them.
func daysOpen(t *telling.Teller, days []*tally.Day) (lines []string) {
	open := int64(0)
	for _, d := range days {
		if d.Unknown {
			open++
		}
	}
	if open > 0 {
		lines = append(lines, t.V.Count("month.unknown", open))
	}
	if owed := tally.Total(days).Open(); !owed.IsZero() {
		lines = append(lines, t.V.Say("month.owed", "money", t.V.Money(owed)))
	}
	return lines
}

// MonthFinished tells that a month is finished, with the check word of all until then.
func MonthFinished(t *telling.Teller, month string) []chat.Block {
	done := t.V.Say("month.finished", "month", monthName(t, month), "who", t.F.Person.Name)
	return []chat.Block{chat.Lines(done,
		t.V.Say("note.check", "word", chat.CheckMark), t.V.Say("month.after"))}
}
