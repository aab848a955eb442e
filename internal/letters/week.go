package letters

import (
	"cmp"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// weekDays is how many days a weekly letter looks back on.
const weekDays = 7

// week is what a machine's entries tell of the days before a date.
type week struct {
	planned, opened, closed int // days; opened and closed on time
	paid                    books.Notes
	apart                   []apart
	changes                 int64               // corrections, and records that were taken back
	noted                   int64               // visits, and counts that nobody stood by
	periods                 map[int64]shop.Date // whose figures belong to it
	first, last             map[shop.Date]time.Time
}

// apart is a closing that did not balance.
type apart struct {
	date  shop.Date
	by    decimal.Decimal
	above bool // more than the shop lets pass
}

// weekBefore reads what was recorded in the days before a date. Nobody was late on days
// before the shop's first record.
func weekBefore(t *telling.Teller, entries []books.Entry, until shop.Date) week {
	w := week{paid: books.Notes{}, periods: map[int64]shop.Date{},
		first: map[shop.Date]time.Time{}, last: map[shop.Date]time.Time{}}
	since := shop.Date("")
	if len(entries) > 0 && entries[0].Seq == 1 {
		since = cmp.Or(entries[0].Day, reminders.DayOf(t.F.Shop, entries[0].Happened))
	}
	for _, e := range entries {
		w.note(t, e, until)
	}
	past := books.InForce(entries)
	for _, e := range past {
		switch e.Kind {
		case books.Opening:
			date := cmp.Or(e.Day, reminders.DayOf(t.F.Shop, e.Happened))
			w.periods[e.Seq] = date
			if had, ok := w.first[date]; !ok || e.Happened.Before(had) {
				w.first[date] = e.Happened
			}
		case books.Count:
			if date, ok := w.periods[e.Period]; ok {
				w.last[date] = e.Happened
			}
		case books.Settlement:
			w.take(t, e, until)
		}
	}
	w.weigh(t, past, until)
	for date := max(until.Add(-weekDays), since); date < until; date = date.Add(1) {
		w.judge(t, date)
	}
	return w
}

// note counts what an owner reads of in the letter alone.
func (w *week) note(t *telling.Teller, e books.Entry, until shop.Date) {
	date := shop.DateOf(t.Local(e.Recorded))
	if date < until.Add(-weekDays) || date >= until {
		return
	}
	switch {
	case e.Kind == books.Correction || e.Kind == books.Undo:
		w.changes++
	case e.Kind == books.VisitBegun || e.Kind == books.Witness && e.Has(books.Alone):
		w.noted++
	}
}

// take adds a slip's payouts. Where notes stay in, a slip is a day of its own, and stands for
// the closing of that day.
func (w *week) take(t *telling.Teller, e books.Entry, until shop.Date) {
	date, ok := w.periods[e.Period]
	if !t.F.Shop.Nightly {
		date, ok = cmp.Or(e.Day, reminders.Today(t.F.Shop, e.Happened)), true
		if had, is := w.last[date]; !is || e.Happened.Before(had) {
			w.last[date] = e.Happened
		}
	}
	if !ok || date >= until || date < until.Add(-weekDays) {
		return
	}
	for _, f := range e.Figures {
		switch f.Field {
		case books.PaidOut, books.LastSeen:
			w.paid.Plus(f.Face, f.Notes)
		case books.Cancelled:
			w.paid.Plus(f.Face, -f.Notes)
		}
	}
}

// weigh lists the differences of closed periods. The entries at hand begin in
// the middle of the ledger, so they are folded as far as they go.
func (w *week) weigh(t *telling.Teller, past []books.Entry, until shop.Date) {
	m := books.New(t.M.ID)
	for _, e := range past {
		date, known := w.periods[cmp.Or(e.Period, e.Seq)]
		if !known {
			continue
		}
		after := m.Clone()
		after.Seq = e.Seq - 1
		if _, err := after.Post(e); err != nil {
			continue
		}
		m = after
		p := m.Period(e.Period)
		within := date < until && date >= until.Add(-weekDays)
		if e.Kind != books.Close || !within || p == nil || p.Variance.IsZero() {
			continue
		}
		w.apart = append(w.apart, apart{date, p.Variance, telling.Beyond(t, p)})
	}
}

// onTimeWithin is how late a task still counts as on time: one that was due at
// seven and recorded two minutes past was not forgotten.
const onTimeWithin = 5 * time.Minute

// judge counts a day that was planned, and whether its tasks were in time.
func (w *week) judge(t *telling.Teller, date shop.Date) {
	open, ok := reminders.Due(t.F.Shop, date, reminders.Opening)
	if !ok {
		return
	}
	w.planned++
	if at := w.first[date]; !t.F.Shop.Nightly || !at.IsZero() && !at.After(open.Add(onTimeWithin)) {
		w.opened++ // where notes stay in there is no opening that could be late
	}
	end, _ := reminders.Due(t.F.Shop, date, reminders.Closing)
	if at := w.last[date]; !at.IsZero() && !at.After(end.Add(onTimeWithin)) {
		w.closed++
	}
}
