package rota

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Bounds of what agenda shows.
const (
	agendaDays  = 3
	agendaLines = 6
)

// Agenda tells what is due next, and by whom: on the days that are named, if any are.
func Agenda(t *telling.Teller, named string) chat.Block {
	lines := []string{t.V.Say("agenda.head")}
	today := t.Today()
	first, last, rest := telling.Days(t, named)
	if named == "" || rest != "" || first < today {
		first, last = today.Add(-1), today.Add(agendaDays)
	}
	for date := first; date <= last && len(lines) <= agendaLines; date = date.Add(1) {
		lines = append(lines, agendaOf(t, date)...)
	}
	if len(lines) == 1 {
		lines = []string{t.V.Say("agenda.nothing")}
	}
	if h := t.F.Shop.Plan.Hold; h != nil {
		lines = append(lines, telling.HoldLines(t, *h)...)
	}
	lines = append(lines, unreachable(t)...)
	return chat.Lines(append(lines, telling.Todo(t)...)...)
}

// unreachable names whom no message reaches: what is due must not wait for them.
func unreachable(t *telling.Teller) []string {
	if t.F.Ask.Phones == nil {
		return nil
	}
	var names []string
	for _, p := range t.F.Ask.Phones() {
		if p.Gone {
			names = append(names, t.Name(p.Person))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{t.V.Say("agenda.gone", "who", strings.Join(names, ", "))}
}

// agendaOf lists the tasks of a day that are still to be done.
func agendaOf(t *telling.Teller, date shop.Date) (lines []string) {
	d := reminders.On(t.F.Shop, date)
	if d.Closed != reminders.Trading && date >= t.Today() {
		return []string{t.V.Say("agenda.closed", "day", t.Between(date, date), "why", whyClosed(t, d))}
	}
	for _, task := range []reminders.Task{reminders.Unclosed, reminders.Opening, reminders.Closing} {
		n := reminders.Name{Date: date, Task: task}
		at, ok := reminders.Due(t.F.Shop, date, task)
		if !ok || !onAgenda(t, n, at) {
			continue
		}
		if task == reminders.Unclosed {
			for _, p := range TasksAt(t, t.M).AllUnclosed(date) {
				lines = append(lines, agendaLine(t, n, t.DayOf(p), at))
			}
			continue
		}
		lines = append(lines, agendaLine(t, n, n.Date, at))
	}
	return lines
}

// agendaLine tells of a task, of a day: what is unclosed, of the one it was loaded for.
func agendaLine(t *telling.Teller, n reminders.Name, of shop.Date, at time.Time) string {
	task := Called(t, n.Task)
	if at.Before(t.Now) {
		task = "late-" + task
	}
	return t.V.Say("agenda."+task, "when", t.Clock(at), "day", t.Between(of, of), "who", whoseTurn(t, n))
}

// Called is the catalogue's name of a task: where notes stay in no closing is due, but the printed figures.
func Called(t *telling.Teller, task reminders.Task) string {
	if task == reminders.Closing && !t.F.Shop.Nightly {
		return "figures"
	}
	return string(task)
}

// onAgenda reports whether a task is worth telling: still to be done, or to come.
func onAgenda(t *telling.Teller, n reminders.Name, at time.Time) bool {
	switch {
	case n.Task == reminders.Unclosed:
		return n.Date == t.Today().Add(-1) && Needs(t, t.M, n)
	case n.Date < t.Today(), t.F.Shop.Plan.Hold != nil && t.M.Current() == nil:
		return false
	case n.Task == reminders.Closing && at.After(t.Now):
		return !closedAlready(t, n.Date)
	}
	return Needs(t, t.M, n)
}

// closedAlready reports whether a day's count is in and nothing was loaded since.
func closedAlready(t *telling.Teller, date shop.Date) bool {
	thatDay := func(p *books.Period) bool { return t.DayOf(p) == date }
	return t.M.Current() == nil && slices.ContainsFunc(t.M.Periods, thatDay)
}

func whoseTurn(t *telling.Teller, n reminders.Name) string {
	var names []string
	for _, id := range reminders.People(t.F.Shop, n.Date, n.Task, shop.List) {
		names = append(names, t.Name(id))
	}
	return strings.Join(names, ", ")
}

// whyClosed says why a shop does not trade on a day.
func whyClosed(t *telling.Teller, d reminders.Day) string {
	if d.Closed == reminders.Public {
		return d.Holiday
	}
	return t.V.Say("closed." + string(d.Closed))
}

// Next tells of the task that is due next, or has been longest; false: none is within days.
func Next(t *telling.Teller) (at time.Time, line string, ok bool) {
	today := t.Today()
	for date := today.Add(-1); date <= today.Add(agendaDays); date = date.Add(1) {
		closed := reminders.On(t.F.Shop, date).Closed != reminders.Trading && date >= today
		for _, task := range []reminders.Task{reminders.Unclosed, reminders.Opening, reminders.Closing} {
			n := reminders.Name{Date: date, Task: task}
			due, is := reminders.Due(t.F.Shop, date, task)
			if closed || !is || !onAgenda(t, n, due) || ok && !due.Before(at) {
				continue
			}
			of := n.Date
			if task == reminders.Unclosed {
				of = TasksAt(t, t.M).Subject(n)
			}
			at, line, ok = due, agendaLine(t, n, of, due), true
		}
	}
	return at, line, ok
}
