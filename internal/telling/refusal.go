package telling

import (
	"errors"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Refusal says why the books do not take a record, and what to do next. It
// never tells how many notes are there by the ledger: whoever is counting just
// now is not to know.
func Refusal(t *Teller, err error) string {
	why := t.V.Say("refused.other") // the file or the program is at fault, not what was told
	if r, ok := errors.AsType[*books.Refusal](err); ok {
		where := r.From
		if where.Inside() && where != books.Tray && where != books.Path {
			where = "box"
		}
		why = t.V.Say("refused."+string(r.Code), "kind", t.V.Kind(r.Face), "where", t.V.Say("place."+string(where)))
	}
	return t.V.Say("refused") + "\n" + why
}

// RecordDay is the day of trading that a record is told under from now on, whatever
// becomes of the shop's hours: that of a period by when it was opened, that of a
// slip by when it was printed, which was at the count however late it is typed in.
func RecordDay(t *Teller, r books.Record) shop.Date {
	if r.Day != "" || !books.Daily(r.Kind) {
		return r.Day
	}
	at := r.Happened
	switch r.Kind {
	case books.Opening:
		return reminders.DayOf(t.F.Shop, at)
	case books.Settlement:
		if p := t.M.Period(r.Period); p != nil {
			if !p.CountedAt.IsZero() && p.CountedAt.Before(at) {
				at = p.CountedAt
			}
			return reminders.SlipDay(t.F.Shop, t.DayOf(p), at)
		}
	}
	return reminders.Today(t.F.Shop, at)
}
