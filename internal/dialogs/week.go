package dialogs

import (
	"cmp"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
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

// tellWeek sends the owners the summary of the seven days before.
func (c *talk) tellWeek(n reminders.Name) {
	since := shop.Date("")
	if len(c.f.Past) > 0 && c.f.Past[0].Seq == 1 {
		since = reminders.DayOf(c.f.Shop, c.f.Past[0].Happened)
	}
	c.f.Past = books.InForce(c.f.Past)
	w := c.week(n.Date, since)
	if len(c.f.Past) == 0 || w.planned == 0 && len(w.paid) == 0 {
		return // not in use
	}
	from, to := n.Date.Add(-weekDays), n.Date.Add(-1)
	body := []Block{text(
		c.v.Say("week.head", "from", c.v.Day(from.Time()), "to", c.v.Day(to.Time())), c.which(),
		c.v.Say("week.opened", "n", w.opened, "of", w.planned),
		c.v.Say("week.closed", "n", w.closed, "of", w.planned),
	)}
	if len(w.differences) == 0 {
		body = append(body, Block{Text: c.v.Say("week.balanced")})
	} else {
		body = append(body, Block{Text: c.v.Say("week.differences") + "\n" + strings.Join(w.differences, "\n")})
	}
	if len(w.paid) > 0 {
		body = append(body, Block{Text: c.v.Say("week.paid")}, c.paidTable(w.paid))
	}
	if open := c.todo(); len(open) > 0 {
		body = append(body, Block{Text: c.v.Say("week.open") + "\n" + strings.Join(open, "\n")})
	}
	for _, id := range reminders.People(c.f.Shop, n.Date, n.Task, shop.Owners) {
		c.tellPerson(id, Reply{Body: body, Silent: true})
	}
}

func (c *talk) paidTable(paid books.Notes) Block {
	var rows [][]string
	for _, f := range paid.Faces() {
		money := c.v.Money(cashmath.Value(f, paid[f]))
		rows = append(rows, []string{c.v.Kind(f), c.v.Count("notes", paid[f]), money})
	}
	return columns(1, rows)
}

// week reads the entries in force of the days before a date. Nobody was late on
// days before the shop's first record.
func (c *talk) week(until, since shop.Date) week {
	w := week{paid: books.Notes{}, periods: map[int64]shop.Date{}}
	var first, last = map[shop.Date]time.Time{}, map[shop.Date]time.Time{}
	for _, e := range c.f.Past {
		switch e.Kind {
		case books.Opening:
			date := reminders.DayOf(c.f.Shop, e.Happened)
			w.periods[e.Seq] = date
			if had, ok := first[date]; !ok || e.Happened.Before(had) {
				first[date] = e.Happened
			}
		case books.Count:
			if date, ok := w.periods[e.Period]; ok {
				last[date] = e.Happened
			}
		case books.Settlement:
			w.take(c, e, until)
		}
	}
	w.weigh(c, until)
	for date := max(until.Add(-weekDays), since); date < until; date = date.Add(1) {
		w.judge(c, date, first[date], last[date])
	}
	return w
}

// take adds a slip's payouts.
func (w *week) take(c *talk, e books.Entry, until shop.Date) {
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
func (w *week) weigh(c *talk, until shop.Date) {
	m := books.New(c.m.ID)
	for _, e := range c.f.Past {
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
		line := c.v.Say(id, "day", c.v.Day(date.Time()), "money", c.v.Money(p.Variance.Abs()))
		w.differences = append(w.differences, line)
	}
}

// onTimeWithin is how late a task still counts as on time: one that was due at
// seven and recorded two minutes past was not forgotten.
const onTimeWithin = 5 * time.Minute

// judge counts a day that was planned, and whether its tasks were in time.
func (w *week) judge(c *talk, date shop.Date, opened, counted time.Time) {
	open, ok := reminders.Due(c.f.Shop, date, reminders.Opening)
	if !ok {
		return
	}
	w.planned++
	if !opened.IsZero() && !opened.After(open.Add(onTimeWithin)) {
		w.opened++
	}
	end, _ := reminders.Due(c.f.Shop, date, reminders.Closing)
	if !counted.IsZero() && !counted.After(end.Add(onTimeWithin)) {
		w.closed++
	}
}
