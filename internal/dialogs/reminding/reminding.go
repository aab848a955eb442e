package reminding

import (
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Names of the deadlines that plan the others.
const (
	planBegin = chat.PlanAgain
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
func remind(c *engine.Talk) {
	n, ok := reminders.ParseName(c.In.Text)
	switch {
	case c.In.Text == planBegin:
		planAll(c, c.F.Shop)
	case c.In.Text == planGoOn:
		planOn(c)
	case ok && n.Task == reminders.Summary:
		onTime(c, n, c.TellTheWeek)
	case ok && n.Task == reminders.Eve:
		onTime(c, n, func(n reminders.Name) { tellEve(c, n) })
	case ok && n.Later > 0:
		dueLater(c, n)
	case ok:
		due(c, n)
	case strings.HasPrefix(c.In.Text, levelName):
		dueLevel(c)
	default:
		c.DueMatter(c.E.OpenMatters())
	}
	if c.Robbed() {
		trade.Hushed(c,
			strings.HasPrefix(c.In.Text, trade.FaultName)) // the ladders go on, but speak of nothing else
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
		c.Deadlines = append(c.Deadlines, chat.Deadline{Name: planBegin, At: now, Machine: m.ID})
	}
}

// planAll plans the machine's deadlines up to the horizon.
func planAll(c *engine.Talk, s *shop.Shop) {
	planMachine(c, s, c.State.Machine)
}

func planMachine(c *engine.Talk, s *shop.Shop, machine shop.MachineID) {
	for _, d := range reminders.Plan(s, c.In.At) {
		c.Deadlines = append(c.Deadlines, chat.Deadline{Name: d.Name.String(), At: d.At, Machine: machine})
	}
	c.Deadlines = append(c.Deadlines, chat.Deadline{Name: planGoOn, At: c.In.At.Add(planFor), Machine: machine})
}

// planOn renews the plan of a machine that is in use. Where nothing was
// recorded for the whole of it, the owner is told and nobody is reminded until
// somebody writes again.
func planOn(c *engine.Talk) {
	last := len(c.M.Recent) - 1
	used := last >= 0 && c.In.At.Sub(c.M.Recent[last].Recorded).Abs() < reminders.Horizon
	if used || !traded(c) {
		planAll(c, c.F.Shop)
		return
	}
	if c.In.Again {
		return
	}
	today := c.Today()
	c.TellPeople(reminders.People(c.F.Shop, today, reminders.Summary, shop.Owners),
		chat.Reply{Body: []chat.Block{engine.Text(c.V.Say("due.idle"), c.Which())}, Silent: true})
}

// traded reports whether the shop was to trade in the time of the last plan.
func traded(c *engine.Talk) bool {
	today := c.Today()
	for date := today.Add(-int(planFor.Hours() / 24)); date <= today; date = date.Add(1) {
		if reminders.On(c.F.Shop, date).Closed == reminders.Trading {
			return true
		}
	}
	return false
}

// due answers the deadline of a task's ladder. Whatever is said, the ladder goes
// on; when several rungs came due at once only the highest speaks.
func due(c *engine.Talk, n reminders.Name) {
	s, now := c.F.Shop, c.In.At
	if !needs(c, c.M, n) {
		return // a record that makes it needed plans it again
	}
	planNext(c, n)
	if !now.Before(reminders.Until(s, n.Date, n.Task)) {
		return
	}
	c.OnLadder(reminders.Rungs(s, n.Date, n.Task), func(_ reminders.Rung, at time.Time) {
		n.Later = afterNight
		plan(c, n, at)
	}, func(r reminders.Rung) { tellDue(c, n, r) })
}

// afterNight numbers a reminder that waits for a quiet night to end.
const afterNight = snoozeMax + 1

// dueLater answers a reminder that was put off. Where it is late and the ladder
// went on meanwhile, that is enough.
func dueLater(c *engine.Talk, n reminders.Name) {
	s, now := c.F.Shop, c.In.At
	task := reminders.Name{Date: n.Date, Task: n.Task}
	if c.In.Again || !needs(c, c.M, task) || !now.Before(reminders.Until(s, n.Date, n.Task)) {
		return
	}
	rungs := reminders.Rungs(s, n.Date, n.Task)
	_, climbed := reminders.Highest(rungs, c.In.Due, now)
	switch late := now.Sub(c.In.Due) > lateAfter; {
	case late && climbed:
	case reminders.Quiet(s, now):
		n.Later = afterNight
		plan(c, n, reminders.Awake(s, now))
	default:
		tellDue(c, task, reminders.Rung{At: c.In.Due, To: shop.List})
	}
}

// onTime says something that has its day and is pointless much later.
func onTime(c *engine.Talk, n reminders.Name, tell func(reminders.Name)) {
	if !c.In.Again && c.In.At.Before(reminders.Until(c.F.Shop, n.Date, n.Task)) {
		tell(n)
	}
}

func plan(c *engine.Talk, n reminders.Name, at time.Time) {
	c.Deadline(n.String(), at)
}

// planNext plans the first rung of a task that is still to come.
func planNext(c *engine.Talk, n reminders.Name) {
	d := reminders.NextOf(c.F.Shop, n.Date, n.Task, c.In.At)
	plan(c, d.Name, d.At)
}

// RemindingMoments are deadlines, and what records change about them.
func RemindingMoments() engine.Moments {
	return engine.Moments{Due: remind, Heard: contact, After: after,
		Means: func(c *engine.Talk, low string) string {
			if saysDuty(c, low) {
				return engine.DoDuty
			}
			return ""
		}}
}
