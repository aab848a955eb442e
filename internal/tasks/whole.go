package tasks

import (
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Whole reports whether nothing is missing among a machine's deadlines, given by their names: a
// row that is lost would be noticed only when somebody was not reminded. What a machine that is
// not in use has none of is not missed.
func (a At) Whole(planned map[string]time.Time, now time.Time) bool {
	goOn, goesOn := planned[chat.PlanGoOn]
	switch _, soon := planned[chat.PlanAgain]; {
	case soon, goesOn && !goOn.After(now):
		return true // all of it is planned in a moment
	case !goesOn:
		return false
	}
	if a.rests(planned, now) {
		return true
	}
	today := a.dateOf(now)
	for date := today.Add(-1); date <= min(today.Add(7), a.dateOf(goOn)); date = date.Add(1) {
		for _, task := range reminders.Tasks() {
			if a.lost(planned, reminders.Name{Date: date, Task: task}, now) {
				return false
			}
		}
	}
	return true
}

// rests reports whether nobody used a machine for a week, see the planning of such.
func (a At) rests(planned map[string]time.Time, now time.Time) bool {
	return now.Sub(a.Newest()).Abs() >= reminders.Horizon && !plansDays(planned)
}

func (a At) dateOf(at time.Time) shop.Date { return shop.DateOf(at.In(a.Shop.Location)) }

// plansDays reports whether there is a deadline of any day.
func plansDays(planned map[string]time.Time) bool {
	for name := range planned {
		if _, is := reminders.ParseName(name); is {
			return true
		}
	}
	return false
}

// lost reports whether a task's deadline is missing. It stands from the time of planning up to
// its first rung, whatever the books say; from then on while the task is still to be done, unless
// somebody put it off.
func (a At) lost(planned map[string]time.Time, n reminders.Name, now time.Time) bool {
	if _, there := planned[n.String()]; there {
		return false
	}
	rungs := reminders.Rungs(a.Shop, n.Date, n.Task)
	if _, comes := reminders.Next(rungs, now); !comes {
		return false
	}
	if rungs[0].At.After(now) {
		return true
	}
	return a.Needed(n) && !putOff(planned, n)
}

// putOff reports whether a task waits under a name of its own: until later, or for a night or a
// count to end.
func putOff(planned map[string]time.Time, n reminders.Name) bool {
	for name := range planned {
		if strings.HasPrefix(name, n.String()+":") {
			return true
		}
	}
	return false
}
