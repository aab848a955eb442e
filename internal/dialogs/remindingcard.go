package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// dueKey names the message about a task of a day within each chat.
func dueKey(n reminders.Name) string { return "due-" + string(n.Date) + "-" + string(n.Task) }

// tellDue says that a task is to be done, to everybody the rung is for. While
// the machine must not be loaded, the opening is not asked for.
func (c *talk) tellDue(n reminders.Name, r reminders.Rung) {
	if n.Task == reminders.Opening && c.f.Shop.Plan.Hold != nil {
		c.tellHold(n, r)
		return
	}
	for _, id := range reminders.People(c.f.Shop, n.Date, n.Task, r.To) {
		p, _ := c.f.Shop.Person(id)
		key := dueKey(n)
		c.tellPerson(id, Reply{
			Body: []Block{text(c.dueLines(n, r)...)}, Buttons: c.dueButtons(n, p),
			Key: key, Retire: key, Silent: r.Nudge,
		})
	}
}

// dueLines word a reminder: the task and its time, never an amount.
func (c *talk) dueLines(n reminders.Name, r reminders.Rung) []string {
	at, _ := reminders.Due(c.f.Shop, n.Date, n.Task)
	fill := []any{"when", c.clock(at), "day", c.v.Day(n.Date.Time())}
	task := string(n.Task)
	if n.Task == reminders.Closing && !c.f.Shop.Nightly {
		task = "figures"
	}
	if r.Nudge {
		return []string{c.v.Say("due.soon-"+task, fill...), c.which()}
	}
	lines := []string{c.v.Say("due."+task, fill...), c.which()}
	switch p := c.unclosed(c.m, n.Date.Add(-1)); {
	case n.Task == reminders.Unclosed:
		lines = append(lines, c.v.Say("due.why-"+string(c.unclosed(c.m, n.Date).Status)))
	case n.Task == reminders.Opening && p != nil && p.Status == books.Open:
		lines = append(lines, c.v.Say("due.open-anyway"))
	}
	if r.To != shop.List {
		lines = append(lines, c.toldBefore(n))
	}
	for _, a := range c.f.Others {
		if c.stale(a) {
			continue
		}
		lines = append(lines, c.v.Say("due.busy", "who", c.name(a.Person), "when", c.clock(a.Since)))
	}
	return append(lines, c.v.Say("due.ask"))
}

// toldBefore tells a manager who was asked already.
func (c *talk) toldBefore(n reminders.Name) string {
	var names []string
	for _, id := range reminders.People(c.f.Shop, n.Date, n.Task, shop.List) {
		names = append(names, c.name(id))
	}
	return c.v.Say("due.told", "who", strings.Join(names, ", "))
}

// dueButtons start the task, put it off, or say that the shop is closed. What
// a tap may do is checked again when it comes.
func (c *talk) dueButtons(n reminders.Name, to shop.Person) [][]Button {
	ref := string(n.Task) + "." + compact(n.Date) + "." + strconv.FormatInt(int64(c.State.Machine), 10)
	rows := [][]Button{c.button("start-"+string(n.Task), "o:start:"+ref)}
	if n.Task == reminders.Opening || n.Task == reminders.Closing {
		var later []Button
		for _, m := range []string{"15", "30", "60"} {
			later = append(later, c.button("in-"+m, "o:later:"+ref+"."+m)...)
		}
		rows = append(rows, later)
		if to.Acts().Manages() {
			rows = append(rows, c.button("closed-today", "o:closed:"+ref))
		}
	}
	return rows
}

// tellEve says the day before that a public holiday comes, and that the shop is
// taken to be closed.
func (c *talk) tellEve(n reminders.Name) {
	next := n.Date.Add(1)
	for _, id := range reminders.People(c.f.Shop, n.Date, n.Task, shop.Managers) {
		c.tellPerson(id, Reply{
			Body:    []Block{{Text: c.v.Say("due.holiday", "what", holidays.On(c.f.Shop.Country, next))}},
			Buttons: [][]Button{c.button("usual", "o:usual:"+compact(next))},
			Key:     dueKey(n), Silent: true,
		})
	}
}
