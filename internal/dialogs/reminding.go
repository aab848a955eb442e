package dialogs

import (
	"strings"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Names of the deadlines that plan the others.
const (
	planBegin = PlanAgain
	planGoOn  = "plan" // the horizon comes near
)

// planFor is how long a plan is good for before it is renewed; it reaches a day
// further, so that nothing falls between two.
const planFor = reminders.Horizon - 24*time.Hour

// lateAfter is how much later than planned a deadline is taken for one that
// waited while the bot was down.
const lateAfter = 5 * time.Minute

// remind answers a deadline of a machine. It speaks to nobody in particular:
// each reply says whom it is for.
func (c *talk) remind() {
	n, ok := reminders.ParseName(c.in.Text)
	switch {
	case c.in.Text == planBegin:
		c.planAll(c.f.Shop)
	case c.in.Text == planGoOn:
		c.planOn()
	case ok && n.Task == reminders.Summary:
		c.onTime(n, c.tellTheWeek)
	case ok && n.Task == reminders.Eve:
		c.onTime(n, func(n reminders.Name) { c.tellEve(n) })
	case ok && n.Later > 0:
		c.dueLater(n)
	case ok:
		c.due(n)
	case strings.HasPrefix(c.in.Text, levelName):
		c.dueLevel()
	default:
		c.dueMatter(c.e.openMatters())
	}
	if c.robbed() {
		c.hushed(strings.HasPrefix(c.in.Text, faultName)) // the ladders go on, but speak of nothing else
	}
}

// contact sees to it that reminders are planned from the time on at which
// somebody of the shop writes. A shop that nobody ever wrote from is left alone.
func (c *talk) contact() {
	now := c.in.At
	if c.State.Planned.After(now) && !c.State.Planned.After(now.Add(planFor)) {
		return
	}
	c.State.Planned = now.Add(planFor)
	for _, m := range c.f.Shop.Machines {
		c.Deadlines = append(c.Deadlines, Deadline{Name: planBegin, At: now, Machine: m.ID})
	}
}

// planAll plans the machine's deadlines up to the horizon.
func (c *talk) planAll(s *shop.Shop) {
	c.planFor(s, c.State.Machine)
}

func (c *talk) planFor(s *shop.Shop, machine shop.MachineID) {
	for _, d := range reminders.Plan(s, c.in.At) {
		c.Deadlines = append(c.Deadlines, Deadline{Name: d.Name.String(), At: d.At, Machine: machine})
	}
	c.Deadlines = append(c.Deadlines, Deadline{Name: planGoOn, At: c.in.At.Add(planFor), Machine: machine})
}

// planOn renews the plan of a machine that is in use. Where nothing was
// recorded for the whole of it, the owner is told and nobody is reminded until
// somebody writes again.
func (c *talk) planOn() {
	last := len(c.m.Recent) - 1
	used := last >= 0 && c.in.At.Sub(c.m.Recent[last].Recorded).Abs() < reminders.Horizon
	if used || !c.traded() {
		c.planAll(c.f.Shop)
		return
	}
	if c.in.Again {
		return
	}
	today := c.today()
	c.tellPeople(reminders.People(c.f.Shop, today, reminders.Summary, shop.Owners),
		Reply{Body: []Block{text(c.v.Say("due.idle"), c.which())}, Silent: true})
}

// traded reports whether the shop was to trade in the time of the last plan.
func (c *talk) traded() bool {
	today := c.today()
	for date := today.Add(-int(planFor.Hours() / 24)); date <= today; date = date.Add(1) {
		if reminders.On(c.f.Shop, date).Closed == reminders.Trading {
			return true
		}
	}
	return false
}

// due answers the deadline of a task's ladder. Whatever is said, the ladder goes
// on; when several rungs came due at once only the highest speaks.
func (c *talk) due(n reminders.Name) {
	s, now := c.f.Shop, c.in.At
	if !c.needs(c.m, n) {
		return // a record that makes it needed plans it again
	}
	c.planNext(n)
	if !now.Before(reminders.Until(s, n.Date, n.Task)) {
		return
	}
	c.onLadder(reminders.Rungs(s, n.Date, n.Task), func(at time.Time) {
		n.Later = afterNight
		c.plan(n, at)
	}, func(r reminders.Rung) { c.tellDue(n, r) })
}

// afterNight numbers a reminder that waits for a quiet night to end.
const afterNight = snoozeMax + 1

// dueLater answers a reminder that was put off. Where it is late and the ladder
// went on meanwhile, that is enough.
func (c *talk) dueLater(n reminders.Name) {
	s, now := c.f.Shop, c.in.At
	task := reminders.Name{Date: n.Date, Task: n.Task}
	if c.in.Again || !c.needs(c.m, task) || !now.Before(reminders.Until(s, n.Date, n.Task)) {
		return
	}
	rungs := reminders.Rungs(s, n.Date, n.Task)
	_, climbed := reminders.Highest(rungs, c.in.Due, now)
	switch late := now.Sub(c.in.Due) > lateAfter; {
	case late && climbed:
	case reminders.Quiet(s, now):
		n.Later = afterNight
		c.plan(n, reminders.Awake(s, now))
	default:
		c.tellDue(task, reminders.Rung{At: c.in.Due, To: shop.List})
	}
}

// onTime says something that has its day and is pointless much later.
func (c *talk) onTime(n reminders.Name, tell func(reminders.Name)) {
	if !c.in.Again && c.in.At.Before(reminders.Until(c.f.Shop, n.Date, n.Task)) {
		tell(n)
	}
}

func (c *talk) plan(n reminders.Name, at time.Time) {
	c.deadline(n.String(), at)
}

// planNext plans the first rung of a task that is still to come.
func (c *talk) planNext(n reminders.Name) {
	d := reminders.NextOf(c.f.Shop, n.Date, n.Task, c.in.At)
	c.plan(d.Name, d.At)
}

// which names the machine where a shop has several.
func (c *talk) which() string {
	if len(c.f.Shop.Machines) < 2 {
		return ""
	}
	return c.v.Say("due.machine", "machine", c.kit.Name)
}

// remindingMoments are deadlines, and what records change about them.
func remindingMoments() moments {
	return moments{due: (*talk).remind, after: (*talk).after, means: func(c *talk, low string) string {
		if c.saysDuty(low) {
			return doDuty
		}
		return ""
	}}
}
