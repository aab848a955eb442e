package reminding

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Bounds of what agenda shows.
const (
	agendaDays  = 3
	agendaLines = 6
)

// agenda tells what is due next, and by whom.
func agenda(c *engine.Talk) {
	lines := []string{c.V.Say("agenda.head")}
	today := c.Today()
	for date := today.Add(-1); date <= today.Add(agendaDays) && len(lines) <= agendaLines; date = date.Add(1) {
		lines = append(lines, agendaOf(c, date)...)
	}
	if len(lines) == 1 {
		lines = []string{c.V.Say("agenda.nothing")}
	}
	if h := c.F.Shop.Plan.Hold; h != nil {
		lines = append(lines, telling.HoldLines(c.Teller, *h)...)
	}
	lines = append(lines, unreachable(c)...)
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(append(lines, telling.Todo(c.Teller)...)...)}})
}

// unreachable names whom no message reaches: what is due must not wait for them.
func unreachable(c *engine.Talk) []string {
	if c.F.Ask.Phones == nil {
		return nil
	}
	var names []string
	for _, p := range c.F.Ask.Phones() {
		if p.Gone {
			names = append(names, c.Name(p.Person))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{c.V.Say("agenda.gone", "who", strings.Join(names, ", "))}
}

// agendaOf lists the tasks of a day that are still to be done.
func agendaOf(c *engine.Talk, date shop.Date) (lines []string) {
	d := reminders.On(c.F.Shop, date)
	if d.Closed != reminders.Trading && date >= c.Today() {
		return []string{c.V.Say("agenda.closed", "day", c.Between(date, date), "why", whyClosed(c, d))}
	}
	for _, task := range []reminders.Task{reminders.Unclosed, reminders.Opening, reminders.Closing} {
		n := reminders.Name{Date: date, Task: task}
		at, ok := reminders.Due(c.F.Shop, date, task)
		if !ok || !onAgenda(c, n, at) {
			continue
		}
		id := "agenda." + string(task)
		if at.Before(c.In.At) {
			id = "agenda.late-" + string(task)
		}
		lines = append(lines,
			c.V.Say(id, "when", c.Clock(at), "day", c.Between(date, date), "who", whoseTurn(c, n)))
	}
	return lines
}

// onAgenda reports whether a task is worth telling: still to be done, or to come.
func onAgenda(c *engine.Talk, n reminders.Name, at time.Time) bool {
	switch {
	case n.Task == reminders.Unclosed:
		return n.Date == c.Today().Add(-1) && needs(c, c.M, n)
	case n.Date < c.Today(), c.F.Shop.Plan.Hold != nil && c.M.Current() == nil:
		return false
	case n.Task == reminders.Closing && at.After(c.In.At):
		return !closedAlready(c, n.Date)
	}
	return needs(c, c.M, n)
}

// closedAlready reports whether a day's count is in and nothing was loaded since.
func closedAlready(c *engine.Talk, date shop.Date) bool {
	thatDay := func(p *books.Period) bool { return c.DayOf(p) == date }
	return c.M.Current() == nil && slices.ContainsFunc(c.M.Periods, thatDay)
}

func whoseTurn(c *engine.Talk, n reminders.Name) string {
	var names []string
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, shop.List) {
		names = append(names, c.Name(id))
	}
	return strings.Join(names, ", ")
}
