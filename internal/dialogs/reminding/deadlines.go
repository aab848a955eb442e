package reminding

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/helping"
	"shopfloat/internal/incidents"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
)

// planFor is how long a plan is good for; it reaches a day further, so that nothing falls between.
const planFor = reminders.Horizon - 24*time.Hour

// remind answers a deadline of a machine. It speaks to nobody in particular: each reply says whom it is for.
func remind(c *engine.Talk) {
	n, ok := reminders.ParseName(c.In.Text)
	switch {
	case c.In.Text == chat.PlanAgain:
		planAgain(c)
	case c.In.Text == chat.PlanGoOn:
		planOn(c)
	case ok && n.Task == reminders.Summary:
		onTime(c, n, func(n reminders.Name) { c.E.Week(c, n) })
	case ok && n.Task == reminders.Eve:
		onTime(c, n, func(n reminders.Name) { tellEve(c, n) })
	case ok && n.Task == reminders.Doubt:
		onTime(c, n, func(n reminders.Name) { askDoubt(c, n) })
	case ok && n.Later > 0:
		dueLater(c, n)
	case ok:
		due(c, n)
	case strings.HasPrefix(c.In.Text, levelName):
		dueLevel(c)
	default:
		c.DueMatter(c.E.OpenMatters())
	}
	if incidents.Hushed(c.Teller) {
		// the ladders go on, but speak of nothing else
		trade.Hushed(c, strings.HasPrefix(c.In.Text, tasks.FaultName))
	}
}

// contact sees to it that reminders are planned from the time on at which
// somebody of the shop writes. A shop that nobody ever wrote from is left alone.
func contact(c *engine.Talk) {
	now := c.In.At
	if c.State.Planned.After(now) && !c.State.Planned.After(now.Add(planFor)) {
		return
	}
	c.State.Planned = now.Add(planFor)
	for _, m := range c.F.Shop.Machines {
		c.Deadlines = append(c.Deadlines, chat.Deadline{Name: chat.PlanAgain, At: now, Machine: m.ID})
	}
}

// planMachine plans a machine's deadlines up to the horizon.
func planMachine(c *engine.Talk, s *shop.Shop, machine shop.MachineID) {
	for _, d := range reminders.Plan(s, c.In.At) {
		c.Deadlines = append(c.Deadlines, chat.Deadline{Name: d.Name.String(), At: d.At, Machine: machine})
	}
	goOn := chat.Deadline{Name: chat.PlanGoOn, At: c.In.At.Add(planFor), Machine: machine}
	c.Deadlines = append(c.Deadlines, goOn)
}

// planAgain plans a machine's deadlines, and those of what stays open until somebody sees to it.
func planAgain(c *engine.Talk) {
	planMachine(c, c.F.Shop, c.State.Machine)
	for _, m := range rota.TasksAt(c.Teller, c.M).Matters(c.Claims(tasks.Late(c.Today()))) {
		c.Climb(m.Name, m.Began, m.Task)
	}
}

// planOn renews the plan of a machine that is in use. Where nothing was recorded for the whole of it, the
// owner is told and nobody is reminded until somebody writes again.
func planOn(c *engine.Talk) {
	newest := rota.TasksAt(c.Teller, c.M).Newest()
	used := !newest.IsZero() && c.In.At.Sub(newest).Abs() < reminders.Horizon
	if used || !reminders.Traded(c.F.Shop, c.Today(), int(planFor.Hours()/24)) {
		planMachine(c, c.F.Shop, c.State.Machine)
		return
	}
	c.Deadline(chat.PlanGoOn, c.In.At.Add(planFor)) // a machine in service is never without one
	key := "idle-" + strconv.FormatInt(int64(c.State.Machine), 10)
	for _, d := range reminders.Plan(c.F.Shop, c.In.At) { // what is planned reaches a day further
		plan(c, d.Name, time.Time{})
	}
	if c.In.Again || rota.Reached(c.Teller, key).Since(newest) {
		return
	}
	c.TellPeople(reminders.People(c.F.Shop, c.Today(), reminders.Summary, shop.Owners),
		chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("due.idle"), c.Which())}, Silent: true, Key: key})
}

// due answers the deadline of a task's ladder. Whatever is said, the ladder goes
// on; when several rungs came due at once only the highest speaks.
func due(c *engine.Talk, n reminders.Name) {
	s, now := c.F.Shop, c.In.At
	if !rota.Needs(c.Teller, c.M, n) {
		return // a record that makes it needed plans it again
	}
	planNext(c, n)
	of, news := rota.News(c.Teller, n)
	if !now.Before(reminders.Until(s, n.Date, n.Task)) || s.Plan.Mutes(n.Date) || !news ||
		!c.In.Again && counting(c, n) {
		return
	}
	c.OnLadder(reminders.Rungs(s, n.Date, n.Task), func(r reminders.Rung, at time.Time) {
		if n.Later = afterNight; at.Equal(r.At) {
			n.Later = afterOutage + r.No
		}
		plan(c, n, at)
		n.Later = 0
	}, func(r reminders.Rung) { tellDue(c, of, r) })
}

// dueLater answers a reminder that was put off. Where it is late and the ladder
// went on meanwhile, that is enough.
func dueLater(c *engine.Talk, n reminders.Name) {
	s, now := c.F.Shop, c.In.At
	task := reminders.Name{Date: n.Date, Task: n.Task}
	if c.In.Again || !rota.Needs(c.Teller, c.M, task) || !now.Before(reminders.Until(s, n.Date, n.Task)) ||
		s.Plan.Mutes(n.Date) || counting(c, task) {
		return
	}
	rungs := reminders.Rungs(s, n.Date, n.Task)
	_, climbed := reminders.Highest(rungs, c.In.Due, now)
	r, waited := reminders.OfNumber(rungs, n.Later-afterOutage)
	switch late := now.Sub(c.In.Due) > reminders.LateAfter; {
	case late && climbed && n.Later != afterCount:
	case reminders.Quiet(s, now):
		n.Later = afterNight
		plan(c, n, reminders.Awake(s, now))
	case n.Later == afterCount:
		if r, due := reminders.Highest(rungs, time.Time{}, now); due {
			tellDue(c, task, r)
		}
	case waited:
		tellDue(c, task, r)
	default:
		tellDue(c, n, reminders.Rung{At: c.In.Due, To: shop.List})
	}
}

// onTime says something that has its day and is pointless much later.
func onTime(c *engine.Talk, n reminders.Name, tell func(reminders.Name)) {
	if !c.In.Again && c.In.At.Before(reminders.Until(c.F.Shop, n.Date, n.Task)) {
		tell(n)
	}
}

func plan(c *engine.Talk, n reminders.Name, at time.Time) { c.Deadline(n.String(), at) }

// planNext plans the first rung of a task that is still to come.
func planNext(c *engine.Talk, n reminders.Name) {
	d := reminders.NextOf(c.F.Shop, n.Date, n.Task, c.In.At)
	plan(c, d.Name, d.At)
}

// Moments are deadlines, and what records change about them.
func Moments() engine.Moments {
	return engine.Moments{Due: remind, Heard: contact, After: after, Means: meansPlan, Beside: typedButton}
}

// typedButton takes the words of a reminder's button for a tap on it.
func typedButton(c *engine.Talk, f *engine.Flow) bool {
	tap, off := rota.TypedButton(c.Teller, c.In.Text, f == nil)
	switch {
	case tap != "":
		c.PressTyped(tap)
	case off: // nothing is to be put off
		c.Send(helping.Now(c.Teller, c.May))
	case f == nil && c.May(engine.DoClosed) && rota.SaysNoEnd(c.Teller, c.In.Text):
		shift(c, engine.DoClosed)
		return true
	case f == nil:
		r, is := rota.Instead(c.Teller, c.In.Text)
		if is {
			c.Send(r)
		}
		return is
	}
	return tap != "" || off
}

// meansPlan hears who opens or closes, who cannot come, and how some days are kept.
func meansPlan(c *engine.Talk, low string) string {
	idle := c.Flow() == nil
	if rota.Counts(low) {
		return ""
	}
	switch _, _, _, duty := rota.DutyIn(c.Teller, low); {
	case duty: // I open on saturday says who, not that it is a day like others
		return engine.DoDuty
	case idle && c.F.Person.Role.Manages() && rota.SaysHours(c.Teller, low):
		return engine.DoHours
	case idle && rota.SaysDays(c.Teller, low):
		return engine.DoClosed
	case rota.SaysAway(c.Teller, low):
		return engine.DoAway
	}
	return ""
}

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

// turn compares a task before and after this step. Where it is done now, the reminders sent are made to say
// by whom; where it is to be done again, the ladder goes on. Before its first rung there is nothing to do.
func turn(c *engine.Talk, n reminders.Name) {
	rungs := reminders.Rungs(c.F.Shop, n.Date, n.Task)
	if len(rungs) == 0 || c.In.At.Before(rungs[0].At) {
		return
	}
	before, now := rota.Needs(c.Teller, c.Before(), n), rota.Needs(c.Teller, c.M, n)
	switch {
	case before && !now:
		c.RewriteAll(rota.DueKey(c.Teller, n), chat.Lines(rota.DoneWord(c.Teller, n), c.Which(),
			c.V.Say("due.done-by", "who", c.F.Person.Name, "when", c.Clock(c.Records[0].Happened))))
	case now && !before:
		planNext(c, n)
	}
}

// planToday plans the tasks of yesterday and today anew: what they need is not
// known until the books have been folded again.
func planToday(c *engine.Talk) {
	today := c.Today()
	for _, date := range []shop.Date{today.Add(-1), today} {
		for _, task := range dayTasks {
			if d := reminders.NextOf(c.F.Shop, date, task, c.In.At); !d.At.IsZero() {
				plan(c, d.Name, d.At)
			}
		}
	}
}
