package reminding

import (
	"strconv"

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
		c.TellPerson(id, chat.Reply{Body: []chat.Block{chat.Lines(dueLines(c, n, r)...)},
			Buttons: dueButtons(c, n, p), Key: dueKey(n), Retire: dueKey(n), Silent: r.Nudge})
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
		lines = append(lines, c.V.Say("due.told", "who", whoseTurn(c, n))) // who was asked already
	}
	for _, a := range c.F.Others {
		if !c.Stale(a) {
			lines = append(lines, c.V.Say("due.busy", "who", c.Name(a.Person), "when", c.Clock(a.Since)))
		}
	}
	return append(lines, c.V.Say("due.ask"))
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
	c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.Managers), chat.Reply{
		Body:    []chat.Block{{Text: c.V.Say("due.holiday", "what", holidays.On(c.F.Shop.Country, next))}},
		Buttons: [][]chat.Button{c.Button("usual", "o:usual:"+compact(next))}, Key: dueKey(n), Silent: true})
}

// needs reports whether a task is still to be done by the books. Where notes
// stay in overnight, a machine that is open needs no opening, and the printed
// figures of the day stand for the closing.
func needs(c *engine.Talk, m *books.Machine, n reminders.Name) bool {
	switch n.Task {
	case reminders.Opening:
		return needsOpening(c, m, n.Date)
	case reminders.Closing:
		return needsClosing(c, m, n.Date)
	case reminders.Unclosed:
		return unclosed(c, m, n.Date) != nil
	}
	return false
}

func needsOpening(c *engine.Talk, m *books.Machine, date shop.Date) bool {
	if !c.F.Shop.Nightly && m.Current() != nil {
		return false
	}
	for _, p := range m.Periods {
		// one that was loaded ahead and is counted already does not stand for it
		counted := p.Status != books.Open && reminders.Today(c.F.Shop, p.CountedAt) < date
		if c.DayOf(p) >= date && !counted {
			return false
		}
	}
	return true
}

func needsClosing(c *engine.Talk, m *books.Machine, date shop.Date) bool {
	p := m.Current()
	if p == nil || c.DayOf(p) > date {
		return false
	}
	if c.F.Shop.Nightly {
		return true
	}
	open := reminders.On(c.F.Shop, date).Open
	for _, slip := range p.Slips {
		if slip.Happened.After(open) {
			return false
		}
	}
	return true
}

// unclosed finds the oldest period of a date or before whose count or printed
// figures are missing, or nil.
func unclosed(c *engine.Talk, m *books.Machine, date shop.Date) *books.Period {
	for _, p := range m.Periods {
		if p.Unfinished() && c.DayOf(p) <= date && (p.Status == books.Waiting || c.F.Shop.Nightly) {
			return p
		}
	}
	return nil
}
