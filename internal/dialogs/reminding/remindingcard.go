package reminding

import (
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// dueKey names the message about a task of a day within each chat.
func dueKey(n reminders.Name) string { return "due-" + string(n.Date) + "-" + string(n.Task) }

// tellDue says that a task is to be done, to everybody the rung is for. While
// the machine must not be loaded, the opening is not asked for.
func tellDue(c *engine.Talk, n reminders.Name, r reminders.Rung) {
	if n.Task == reminders.Opening && c.F.Shop.Plan.Hold != nil {
		tellHold(c, n, r)
		return
	}
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, r.To) {
		p, _ := c.F.Shop.Person(id)
		key := dueKey(n)
		c.TellPerson(id, chat.Reply{
			Body: []chat.Block{engine.Text(dueLines(c, n, r)...)}, Buttons: dueButtons(c, n, p),
			Key: key, Retire: key, Silent: r.Nudge,
		})
	}
}

// dueLines word a reminder: the task and its time, never an amount.
func dueLines(c *engine.Talk, n reminders.Name, r reminders.Rung) []string {
	at, _ := reminders.Due(c.F.Shop, n.Date, n.Task)
	fill := []any{"when", c.Clock(at), "day", c.V.Day(n.Date.Time())}
	task := string(n.Task)
	if n.Task == reminders.Closing && !c.F.Shop.Nightly {
		task = "figures"
	}
	if r.Nudge {
		return []string{c.V.Say("due.soon-"+task, fill...), c.Which()}
	}
	lines := []string{c.V.Say("due."+task, fill...), c.Which()}
	switch p := unclosed(c, c.M, n.Date.Add(-1)); {
	case n.Task == reminders.Unclosed:
		lines = append(lines, c.V.Say("due.why-"+string(unclosed(c, c.M, n.Date).Status)))
	case n.Task == reminders.Opening && p != nil && p.Status == books.Open:
		lines = append(lines, c.V.Say("due.open-anyway"))
	}
	if r.To != shop.List {
		lines = append(lines, toldBefore(c, n))
	}
	for _, a := range c.F.Others {
		if c.Stale(a) {
			continue
		}
		lines = append(lines, c.V.Say("due.busy", "who", c.Name(a.Person), "when", c.Clock(a.Since)))
	}
	return append(lines, c.V.Say("due.ask"))
}

// toldBefore tells a manager who was asked already.
func toldBefore(c *engine.Talk, n reminders.Name) string {
	var names []string
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, shop.List) {
		names = append(names, c.Name(id))
	}
	return c.V.Say("due.told", "who", strings.Join(names, ", "))
}

// dueButtons start the task, put it off, or say that the shop is closed. What
// a tap may do is checked again when it comes.
func dueButtons(c *engine.Talk, n reminders.Name, to shop.Person) [][]chat.Button {
	ref := string(n.Task) + "." + compact(n.Date) + "." + strconv.FormatInt(int64(c.State.Machine), 10)
	rows := [][]chat.Button{c.Button("start-"+string(n.Task), "o:start:"+ref)}
	if n.Task == reminders.Opening || n.Task == reminders.Closing {
		var later []chat.Button
		for _, m := range []string{"15", "30", "60"} {
			later = append(later, c.Button("in-"+m, "o:later:"+ref+"."+m)...)
		}
		rows = append(rows, later)
		if to.Acts().Manages() {
			rows = append(rows, c.Button("closed-today", "o:closed:"+ref))
		}
	}
	return rows
}

// tellEve says the day before that a public holiday comes, and that the shop is
// taken to be closed.
func tellEve(c *engine.Talk, n reminders.Name) {
	next := n.Date.Add(1)
	for _, id := range reminders.People(c.F.Shop, n.Date, n.Task, shop.Managers) {
		c.TellPerson(id, chat.Reply{
			Body:    []chat.Block{{Text: c.V.Say("due.holiday", "what", holidays.On(c.F.Shop.Country, next))}},
			Buttons: [][]chat.Button{c.Button("usual", "o:usual:"+compact(next))},
			Key:     dueKey(n), Silent: true,
		})
	}
}
