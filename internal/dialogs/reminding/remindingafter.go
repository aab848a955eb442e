package reminding

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// after looks at what a step leads to: what was recorded ends reminders and
// begins others, and a new version of the settings makes a new plan.
func after(c *engine.Talk) {
	if c.Settings != nil {
		planAnew(c)
	}
	for _, r := range c.Records {
		switch r.Kind {
		case books.Opening:
			date := reminders.DayOf(c.F.Shop, r.Happened)
			turn(c, reminders.Name{Date: date, Task: reminders.Opening})
			turn(c, reminders.Name{Date: date, Task: reminders.Closing})
			planLevel(c)
		case books.TopUp, books.Swap, books.Level:
			planLevel(c)
		case books.Count, books.Close, books.Settlement:
			turnClosings(c, r)
		case books.Undo, books.Correction:
			planToday(c)
		}
	}
}

// planAnew plans all machines by the settings just laid down.
func planAnew(c *engine.Talk) {
	s, err := shop.New(c.F.Shop.ID, c.F.Shop.Version+1, *c.Settings)
	if err != nil {
		return // nothing of this step will be taken
	}
	for _, m := range s.Machines {
		if m.ID != 0 {
			planMachine(c, s, m.ID)
		}
	}
}

// turnClosings looks at the closings that a record of a period may end, as far
// back as messages about them can still be changed.
func turnClosings(c *engine.Talk, r books.Record) {
	p := c.M.Period(r.Period)
	if p == nil {
		return
	}
	today, day := c.Today(), c.DayOf(p)
	if day > today { // opened for tomorrow and counted again before it began
		turn(c, reminders.Name{Date: day, Task: reminders.Opening})
	}
	for date := max(day, today.Add(-1)); date <= today; date = date.Add(1) {
		turn(c, reminders.Name{Date: date, Task: reminders.Closing})
	}
	for date := max(day, today.Add(-2)); date < today; date = date.Add(1) {
		turn(c, reminders.Name{Date: date, Task: reminders.Unclosed})
	}
}

// turn compares a task before and after this step. Where it is done now, the
// reminders sent are made to say by whom; where it is to be done again, the
// ladder goes on. Before its first rung there is nothing to do.
func turn(c *engine.Talk, n reminders.Name) {
	rungs := reminders.Rungs(c.F.Shop, n.Date, n.Task)
	if len(rungs) == 0 || c.In.At.Before(rungs[0].At) {
		return
	}
	before, now := needs(c, c.Before(), n), needs(c, c.M, n)
	switch {
	case before && !now:
		c.RewriteAll(dueKey(n), engine.Text(doneWord(c, n), c.Which(),
			c.V.Say("due.done-by", "who", c.F.Person.Name, "when", c.Clock(c.When()))))
	case now && !before:
		planNext(c, n)
	}
}

// planToday plans the tasks of yesterday and today anew: what they need is not
// known until the books have been folded again.
func planToday(c *engine.Talk) {
	today := c.Today()
	for _, date := range []shop.Date{today.Add(-1), today} {
		for _, task := range []reminders.Task{reminders.Opening, reminders.Closing, reminders.Unclosed} {
			if d := reminders.NextOf(c.F.Shop, date, task, c.In.At); !d.At.IsZero() {
				plan(c, d.Name, d.At)
			}
		}
	}
}
