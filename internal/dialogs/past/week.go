package past

import (
	"cmp"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
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
func tellWeek(c *engine.Talk, n reminders.Name) {
	since := shop.Date("")
	if len(c.F.Past) > 0 && c.F.Past[0].Seq == 1 {
		since = reminders.DayOf(c.F.Shop, c.F.Past[0].Happened)
	}
	c.F.Past = books.InForce(c.F.Past)
	w := weekBefore(c, n.Date, since)
	if len(c.F.Past) == 0 || w.planned == 0 && len(w.paid) == 0 {
		return // not in use
	}
	from, to := n.Date.Add(-weekDays), n.Date.Add(-1)
	body := []chat.Block{engine.Text(
		c.V.Say("week.head", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time())), c.Which(),
		c.V.Say("week.opened", "n", w.opened, "of", w.planned),
		c.V.Say("week.closed", "n", w.closed, "of", w.planned),
	)}
	if len(w.differences) == 0 {
		body = append(body, chat.Block{Text: c.V.Say("week.balanced")})
	} else {
		body = append(body, engine.Text(append([]string{c.V.Say("week.differences")}, w.differences...)...))
	}
	if len(w.paid) > 0 {
		body = append(body, chat.Block{Text: c.V.Say("week.paid")}, paidTable(c, w.paid))
	}
	if open := trade.Todo(c); len(open) > 0 {
		body = append(body, engine.Text(append([]string{c.V.Say("week.open")}, open...)...))
	}
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, shop.Owners) {
		c.TellPerson(id, chat.Reply{Body: body, Silent: true})
	}
}

func paidTable(c *engine.Talk, paid books.Notes) chat.Block {
	var rows [][]string
	for _, f := range paid.Faces() {
		money := c.V.Money(cashmath.Value(f, paid[f]))
		rows = append(rows, []string{c.V.Kind(f), c.V.Count("notes", paid[f]), money})
	}
	return engine.Columns(1, rows)
}

// weekBefore reads the entries in force of the days before a date. Nobody was late on
// days before the shop's first record.
func weekBefore(c *engine.Talk, until, since shop.Date) week {
	w := week{paid: books.Notes{}, periods: map[int64]shop.Date{}}
	var first, last = map[shop.Date]time.Time{}, map[shop.Date]time.Time{}
	for _, e := range c.F.Past {
		switch e.Kind {
		case books.Opening:
			date := reminders.DayOf(c.F.Shop, e.Happened)
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
func (w *week) take(c *engine.Talk, e books.Entry, until shop.Date) {
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
func (w *week) weigh(c *engine.Talk, until shop.Date) {
	m := books.New(c.M.ID)
	for _, e := range c.F.Past {
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
		line := c.V.Say(id, "day", c.V.Day(date.Time()), "money", c.V.Money(p.Variance.Abs()))
		w.differences = append(w.differences, line)
	}
}

// onTimeWithin is how late a task still counts as on time: one that was due at
// seven and recorded two minutes past was not forgotten.
const onTimeWithin = 5 * time.Minute

// judge counts a day that was planned, and whether its tasks were in time.
func (w *week) judge(c *engine.Talk, date shop.Date, opened, counted time.Time) {
	open, ok := reminders.Due(c.F.Shop, date, reminders.Opening)
	if !ok {
		return
	}
	w.planned++
	if !opened.IsZero() && !opened.After(open.Add(onTimeWithin)) {
		w.opened++
	}
	end, _ := reminders.Due(c.F.Shop, date, reminders.Closing)
	if !counted.IsZero() && !counted.After(end.Add(onTimeWithin)) {
		w.closed++
	}
}
