package dialogs

import (
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// after looks at what a step leads to: what was recorded ends reminders and
// begins others, and a new version of the settings makes a new plan.
func (c *talk) after() {
	c.contact()
	if c.Settings != nil {
		c.planAnew()
	}
	for _, r := range c.Records {
		switch r.Kind {
		case books.Opening:
			date := reminders.DayOf(c.f.Shop, r.Happened)
			c.turn(reminders.Name{Date: date, Task: reminders.Opening})
			c.turn(reminders.Name{Date: date, Task: reminders.Closing})
			c.planLevel()
		case books.TopUp, books.Swap, books.Level:
			c.planLevel()
		case books.Count, books.Close, books.Settlement:
			c.turnClosings(r)
		case books.Undo, books.Correction:
			c.planToday()
		}
	}
}

// planAnew plans all machines by the settings just laid down.
func (c *talk) planAnew() {
	s, err := shop.New(c.f.Shop.ID, c.f.Shop.Version+1, *c.Settings)
	if err != nil {
		return // nothing of this step will be taken
	}
	for _, m := range s.Machines {
		if m.ID != 0 {
			c.planFor(s, m.ID)
		}
	}
}

// turnClosings looks at the closings that a record of a period may end, as far
// back as messages about them can still be changed.
func (c *talk) turnClosings(r books.Record) {
	p := c.m.Period(r.Period)
	if p == nil {
		return
	}
	today, day := c.today(), c.dayOf(p)
	if day > today { // opened for tomorrow and counted again before it began
		c.turn(reminders.Name{Date: day, Task: reminders.Opening})
	}
	for date := max(day, today.Add(-1)); date <= today; date = date.Add(1) {
		c.turn(reminders.Name{Date: date, Task: reminders.Closing})
	}
	for date := max(day, today.Add(-2)); date < today; date = date.Add(1) {
		c.turn(reminders.Name{Date: date, Task: reminders.Unclosed})
	}
}

// turn compares a task before and after this step. Where it is done now, the
// reminders sent are made to say by whom; where it is to be done again, the
// ladder goes on. Before its first rung there is nothing to do.
func (c *talk) turn(n reminders.Name) {
	rungs := reminders.Rungs(c.f.Shop, n.Date, n.Task)
	if len(rungs) == 0 || c.in.At.Before(rungs[0].At) {
		return
	}
	before, now := c.needs(c.before(), n), c.needs(c.m, n)
	switch {
	case before && !now:
		c.rewriteAll(dueKey(n), text(c.doneWord(n), c.which(),
			c.v.Say("due.done-by", "who", c.f.Person.Name, "when", c.clock(c.when()))))
	case now && !before:
		c.planNext(n)
	}
}

// before is the machine's books as this step found them.
func (c *talk) before() *books.Machine {
	if c.f.Machine != nil {
		return c.f.Machine
	}
	return books.New(c.State.Machine)
}

// planToday plans the tasks of yesterday and today anew: what they need is not
// known until the books have been folded again.
func (c *talk) planToday() {
	today := c.today()
	for _, date := range []shop.Date{today.Add(-1), today} {
		for _, task := range []reminders.Task{reminders.Opening, reminders.Closing, reminders.Unclosed} {
			if d := reminders.NextOf(c.f.Shop, date, task, c.in.At); !d.At.IsZero() {
				c.plan(d.Name, d.At)
			}
		}
	}
}
