package telling

import (
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// HasLedger reports whether all that was ever recorded can be had.
func (t *Teller) HasLedger() bool { return t.F.Ask.Entries != nil }

// PeriodOn finds the last period of a day of trading; 0 for none.
func PeriodOn(t *Teller, date shop.Date) int64 {
	no := int64(0)
	for _, p := range t.Look().Periods {
		if t.DayOf(p) == date {
			no = p.No
		}
	}
	return no
}

// Look gives the books with everything that ever was, to look back. Where they
// cannot be had it is what is at hand.
func (t *Teller) Look() *books.Machine {
	if t.F.Ask.Entries == nil {
		return t.M
	}
	m, err := books.History(t.M.ID, t.F.Ask.Entries())
	if err != nil {
		return t.M
	}
	return m
}

// PastDays reads days that have been: monday, yesterday, 24 november, monday to
// wednesday. No day at all is today, and takes nothing of the text; so it is for a
// day that has not come yet.
func PastDays(t *Teller, s string) (from, to shop.Date, rest string) {
	days, rest, why := Reader(t).Days(s, when.Back)
	switch {
	case why != when.OK:
		return t.Today(), t.Today(), rest
	case days.From > t.Today():
		return t.Today(), t.Today(), s
	}
	return days.From, days.To, rest
}

// Ledger is all that was ever recorded, as far as it can be had.
func (t *Teller) Ledger() []books.Entry {
	if !t.HasLedger() {
		return nil
	}
	return t.F.Ask.Entries()
}

// Lately gives the books before any record of the days from one on, and all entries
// since.
func (t *Teller) Lately(from shop.Date) (*books.Machine, []books.Entry) {
	if t.F.Ask.Lately == nil {
		return books.New(t.M.ID), t.Ledger()
	}
	if t.since.then == nil || t.since.from != from {
		t.since.from = from
		t.since.then, t.since.entries = t.F.Ask.Lately(from)
		if t.since.then == nil {
			t.since.then = books.New(t.M.ID)
		}
	}
	return t.since.then, t.since.entries
}
