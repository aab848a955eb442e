package dialogs

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Bounds of what agenda shows.
const (
	agendaDays  = 3
	agendaLines = 6
)

// agenda tells what is due next, and by whom.
func (c *talk) agenda() {
	lines := []string{c.v.Say("agenda.head")}
	today := c.today()
	for date := today.Add(-1); date <= today.Add(agendaDays) && len(lines) <= agendaLines; date = date.Add(1) {
		lines = append(lines, c.agendaOf(date)...)
	}
	if len(lines) == 1 {
		lines = []string{c.v.Say("agenda.nothing")}
	}
	if h := c.f.Shop.Plan.Hold; h != nil {
		lines = append(lines, c.holdLines(*h)...)
	}
	c.send(Reply{Body: []Block{text(append(lines, c.todo()...)...)}})
}

// agendaOf lists the tasks of a day that are still to be done.
func (c *talk) agendaOf(date shop.Date) (lines []string) {
	d := reminders.On(c.f.Shop, date)
	if d.Closed != reminders.Trading && date >= c.today() {
		return []string{c.v.Say("agenda.closed", "day", c.between(date, date), "why", c.whyClosed(d))}
	}
	for _, task := range []reminders.Task{reminders.Unclosed, reminders.Opening, reminders.Closing} {
		n := reminders.Name{Date: date, Task: task}
		at, ok := reminders.Due(c.f.Shop, date, task)
		if !ok || !c.onAgenda(n, at) {
			continue
		}
		id := "agenda." + string(task)
		if at.Before(c.in.At) {
			id = "agenda.late-" + string(task)
		}
		lines = append(lines, c.v.Say(id, "when", c.clock(at), "day", c.between(date, date), "who", c.whoseTurn(n)))
	}
	return lines
}

// onAgenda reports whether a task is worth telling: still to be done, or to come.
func (c *talk) onAgenda(n reminders.Name, at time.Time) bool {
	switch {
	case n.Task == reminders.Unclosed:
		return n.Date == c.today().Add(-1) && c.needs(c.m, n)
	case n.Date < c.today(), c.f.Shop.Plan.Hold != nil && c.m.Current() == nil:
		return false
	case n.Task == reminders.Closing && at.After(c.in.At):
		return !c.closedAlready(n.Date)
	}
	return c.needs(c.m, n)
}

// closedAlready reports whether a day's count is in and nothing was loaded since.
func (c *talk) closedAlready(date shop.Date) bool {
	thatDay := func(p *books.Period) bool { return c.dayOf(p) == date }
	return c.m.Current() == nil && slices.ContainsFunc(c.m.Periods, thatDay)
}

func (c *talk) whoseTurn(n reminders.Name) string {
	var names []string
	for _, id := range reminders.People(c.f.Shop, n.Date, n.Task, shop.List) {
		names = append(names, c.name(id))
	}
	return strings.Join(names, ", ")
}

// whyClosed says why a shop does not trade on a day.
func (c *talk) whyClosed(d reminders.Day) string {
	if d.Closed == reminders.Public {
		return d.Holiday
	}
	return c.v.Say("closed." + string(d.Closed))
}
