package telling

import (
	"cmp"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// weekDays is how many days a weekly summary looks back on.
const weekDays = 7

// week is what a machine's entries tell of the days before a date.
type week struct {
	planned, opened, closed int // days; opened and closed on time
	paid                    books.Notes
	differences             []string
	periods                 map[int64]shop.Date // whose figures belong to it
}

// Week tells of the seven days before a date by the entries of that time; nil
// where the machine was not in use.
func Week(t *Teller, entries []books.Entry, until shop.Date) []chat.Block {
	since := shop.Date("")
	if len(entries) > 0 && entries[0].Seq == 1 {
		since = cmp.Or(entries[0].Day, reminders.DayOf(t.F.Shop, entries[0].Happened))
	}
	past := books.InForce(entries)
	w := weekBefore(t, past, until, since)
	if len(past) == 0 || w.planned == 0 && len(w.paid) == 0 {
		return nil
	}
	from, to := until.Add(-weekDays), until.Add(-1)
	body := []chat.Block{chat.Lines(
		t.V.Say("week.head", "from", t.V.Day(from.Time()), "to", t.V.Day(to.Time())), t.Which(),
		t.V.Say("week.opened", "n", w.opened, "of", w.planned),
		t.V.Say("week.closed", "n", w.closed, "of", w.planned),
	)}
	if len(w.differences) == 0 {
		body = append(body, chat.Block{Text: t.V.Say("week.balanced")})
	} else {
		body = append(body, chat.Lines(append([]string{t.V.Say("week.differences")}, w.differences...)...))
	}
	if len(w.paid) > 0 {
		body = append(body, chat.Block{Text: t.V.Say("week.paid")}, paidTable(t, w.paid))
	}
	if open := Todo(t); len(open) > 0 {
		body = append(body, chat.Lines(append([]string{t.V.Say("week.open")}, open...)...))
	}
	return body
}

func paidTable(t *Teller, paid books.Notes) chat.Block {
	var rows [][]string
	for _, f := range paid.Faces() {
		money := t.V.Money(cashmath.Value(f, paid[f]))
		rows = append(rows, []string{t.V.Kind(f), t.V.Count("notes", paid[f]), money})
	}
	return chat.Columns(1, rows)
}

// weekBefore reads the entries in force of the days before a date. Nobody was late on
// days before the shop's first record.
func weekBefore(t *Teller, past []books.Entry, until, since shop.Date) week {
	w := week{paid: books.Notes{}, periods: map[int64]shop.Date{}}
	var first, last = map[shop.Date]time.Time{}, map[shop.Date]time.Time{}
	for _, e := range past {
		switch e.Kind {
		case books.Opening:
			date := cmp.Or(e.Day, reminders.DayOf(t.F.Shop, e.Happened))
			w.periods[e.Seq] = date
			if had, ok := first[date]; !ok || e.Happened.Before(had) {
				first[date] = e.Happened
			}
		case books.Count:
			if date, ok := w.periods[e.Period]; ok {
				last[date] = e.Happened
			}
		case books.Settlement:
			w.take(t, e, until)
		}
	}
	w.weigh(t, past, until)
	for date := max(until.Add(-weekDays), since); date < until; date = date.Add(1) {
		w.judge(t, date, first[date], last[date])
	}
	return w
}

// take adds a slip's payouts.
func (w *week) take(t *Teller, e books.Entry, until shop.Date) {
	date, ok := w.periods[e.Period]
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
func (w *week) weigh(t *Teller, past []books.Entry, until shop.Date) {
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
		id := "week.over"
		if p.Variance.IsNegative() {
			id = "week.missing"
		}
		line := t.V.Say(id, "day", t.V.Day(date.Time()), "money", t.V.Money(p.Variance.Abs()))
		w.differences = append(w.differences, line)
	}
}

// onTimeWithin is how late a task still counts as on time: one that was due at
// seven and recorded two minutes past was not forgotten.
const onTimeWithin = 5 * time.Minute

// judge counts a day that was planned, and whether its tasks were in time.
func (w *week) judge(t *Teller, date shop.Date, opened, counted time.Time) {
	open, ok := reminders.Due(t.F.Shop, date, reminders.Opening)
	if !ok {
		return
	}
	w.planned++
	if !opened.IsZero() && !opened.After(open.Add(onTimeWithin)) {
		w.opened++
	}
	end, _ := reminders.Due(t.F.Shop, date, reminders.Closing)
	if !counted.IsZero() && !counted.After(end.Add(onTimeWithin)) {
		w.closed++
	}
}
