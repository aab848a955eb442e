package telling

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// HasLedger reports whether all that was ever recorded can be had.
func (t *Teller) HasLedger() bool { return t.F.Ask.Entries != nil }

// PeriodOn finds the last period of a day of trading; 0 for none.
func PeriodOn(t *Teller, date shop.Date) int64 {
	no := int64(0)
	for _, p := range t.Look(date).Periods {
		if t.DayOf(p) == date {
			no = p.No
		}
	}
	return no
}

// Look gives the books with everything from a day on, to look back. Where they cannot be had
// it is what is at hand.
func (t *Teller) Look(from shop.Date) *books.Machine {
	if !t.HasLedger() {
		return t.M
	}
	m, err := books.HistoryOn(t.Lately(from))
	if err != nil {
		return t.M
	}
	return m
}

// PeriodOf finds a period however old it is, or nil.
func (t *Teller) PeriodOf(no int64) *books.Period {
	if p := t.M.Period(no); p != nil || no == 0 || !t.HasLedger() {
		return p
	}
	m, err := books.HistoryOn(t.Back(no))
	if err != nil {
		return nil
	}
	return m.Period(no)
}

// PastDays reads days that have been: monday, yesterday, 24 november, 19, monday to
// wednesday. No day at all is today, and takes nothing of the text; so it is for a
// day that has not come yet, and for a 29 February that this year has not.
func PastDays(t *Teller, s string) (from, to shop.Date, rest string) {
	days, rest, why := pastReader(t).Days(s, when.Back)
	switch {
	case why != when.OK:
		return t.Today(), t.Today(), rest
	case days.From > t.Today() || noLeap(t, days.From, s):
		return t.Today(), t.Today(), s
	}
	return days.From, days.To, rest
}

func pastReader(t *Teller) when.Reader {
	r := Reader(t)
	r.Alone = true
	return r
}

// yearLong is one day more than a year that has a 29 February.
const yearLong = 367

// noLeap reports whether a day is a 29 February of years ago that a text names without
// its year: who says it means one of this year.
func noLeap(t *Teller, d shop.Date, s string) bool {
	return strings.HasSuffix(string(d), "-02-29") && d < t.Today().Add(-yearLong) &&
		!strings.Contains(s, string(d)[:4])
}

// NoDay says why words that should name a day that has been name none, in a sentence of
// the catalogue where no more is known than that.
func NoDay(t *Teller, near, otherwise string) string {
	days, _, why := pastReader(t).Days(near, when.Back)
	switch {
	case why == when.Impossible:
		return t.V.Say("past.impossible", "near", near)
	case why == when.Ambiguous:
		return t.V.Say("past.two-ways", "near", near)
	case why == when.OK && days.From > t.Today():
		return t.V.Say("past.to-come", "day", t.DayYear(days.From))
	case why == when.OK && noLeap(t, days.From, near):
		return t.V.Say("past.no-leap", "day", t.DayYear(days.From))
	}
	return t.V.Say(otherwise, "near", near)
}

// Ledger is all that was ever recorded, as far as it can be had.
func (t *Teller) Ledger() []books.Entry {
	if !t.HasLedger() {
		return nil
	}
	return t.F.Ask.Entries()
}

// Back gives the books before an entry, and all entries since then.
func (t *Teller) Back(seq int64) (*books.Machine, []books.Entry) {
	if t.F.Ask.Before == nil {
		return books.New(t.M.ID), t.Ledger()
	}
	then, since := t.F.Ask.Before(seq)
	if then == nil {
		then = books.New(t.M.ID)
	}
	return then, since
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
