package reminders

import (
	"slices"
	"strconv"
	"sync"
	"time"

	"shopfloat/internal/shop"
)

// Task is something a shop is reminded of.
type Task string

// The tasks of a day.
const (
	Opening  Task = "opening"
	Closing  Task = "closing"
	Filling  Task = "filling"  // of a day without an end: look at the notes, and top up
	Unclosed Task = "unclosed" // a closing that is still missing on the next day
	Eve      Task = "holiday"  // tomorrow is a public holiday
	Doubt    Task = "doubt"    // in a week comes a holiday that may not be one
	Summary  Task = "summary"  // of the week
)

// Tasks lists the tasks of a day in the order in which they come.
func Tasks() []Task { return []Task{Opening, Filling, Closing, Unclosed, Eve, Doubt, Summary} }

// Matters that may stay open for longer than a day climb a ladder of their own,
// which begins when they do.
const (
	Ticks Task = "ticks" // an opening's checklist
	Fault Task = "fault"
)

// Rung is one step of a ladder: an instant and whom it tells.
type Rung struct {
	No    int // 1 is the first
	At    time.Time
	To    shop.Group
	Nudge bool // before the task is due

	after int // minutes after the task is due, also where it waits for a night to end
}

// countTime is how long after the end of trading the closing is due: the count
// takes a while. Common practice, no source.
const countTime = 15 * time.Minute

// usual are the ladders of a shop that has laid down none: a nudge, when the
// task is due, once more, a manager, an owner. Common practice, no source.
var usual = sync.OnceValue(func() map[Task][]shop.Rung {
	return map[Task][]shop.Rung{
		Opening:  slices.Concat(told(shop.List, -15, 0, 20), told(shop.Managers, 45), told(shop.Owners, 90)),
		Closing:  slices.Concat(told(shop.List, -15, 0, 30), told(shop.Managers, 60), told(shop.Owners, 90)),
		Filling:  slices.Concat(told(shop.List, 0, 60), told(shop.Managers, 180)),
		Unclosed: slices.Concat(told(shop.List, 60), told(shop.Managers, 180), told(shop.Owners, 360)),
		Ticks:    slices.Concat(told(shop.List, 30, 210), told(shop.Managers, 300)),
		Fault:    slices.Concat(told(shop.List, 60), told(shop.Managers, 240), told(shop.Owners, 24*60)),
		Owed:     told(shop.Managers, 0),
		LongOwed: told(shop.Owners, 0),
		Eve:      told(shop.Managers, 0),
		Doubt:    told(shop.Owners, 0),
		Summary:  told(shop.Owners, 0),
	}
})

// told makes rungs that tell a group, each so many minutes after the task is due.
func told(to shop.Group, minutes ...int) []shop.Rung {
	rungs := make([]shop.Rung, 0, len(minutes))
	for _, m := range minutes {
		rungs = append(rungs, shop.Rung{After: m, To: to})
	}
	return rungs
}

// Ladder gives a task's rungs as the shop laid them down, or the usual ones.
func Ladder(s *shop.Shop, task Task) []shop.Rung {
	if own := *s.Plan.Ladders.Of(string(task)); len(own) > 0 {
		return own
	}
	return usual()[task]
}

// Rungs gives the steps of a task's ladder on a day. Those that fall into a
// quiet night are left out: the next day has its own.
func Rungs(s *shop.Shop, date shop.Date, task Task) []Rung {
	due, ok := Due(s, date, task)
	if !ok || s.Plan.Mutes(date) && !slices.Contains([]Task{Eve, Doubt, Summary}, task) {
		return nil
	}
	return climb(s, due, task, !On(s, date).Endless)
}

// Climb gives the steps of the ladder of a matter that began at an instant.
// Those that fall into a quiet night wait for its end.
func Climb(s *shop.Shop, began time.Time, task Task) []Rung { return climb(s, began, task, false) }

func climb(s *shop.Shop, due time.Time, task Task, drop bool) []Rung {
	var rungs []Rung
	for i, r := range Ladder(s, task) {
		at := due.Add(time.Duration(r.After) * time.Minute)
		switch {
		case !Quiet(s, at) && !asleep(s, at, r.To):
		case drop:
			continue
		default:
			at = awake(s, at)
		}
		if n := len(rungs); n > 0 && rungs[n-1].At.After(at) {
			at = rungs[n-1].At
		}
		rungs = append(rungs, Rung{No: i + 1, At: at, To: r.To, Nudge: r.After < 0, after: r.After})
	}
	return rungs
}

// Until is when a task of a day is no longer spoken of: another has taken over.
func Until(s *shop.Shop, date shop.Date, task Task) time.Time {
	due, _ := Due(s, date, task)
	switch task {
	case Opening:
		return On(s, date).Close
	case Closing:
		if d := On(s, date); d.Endless {
			return d.Close.Add(endlessUnclosed)
		}
		return morning(s, date.Add(1))
	case Unclosed:
		if d := On(s, date); d.Endless {
			return d.Close.Add(day)
		}
		return morning(s, date.Add(2))
	}
	return due.Add(12 * time.Hour)
}

// Next gives the first rung after an instant.
func Next(rungs []Rung, after time.Time) (Rung, bool) {
	for _, r := range rungs {
		if r.At.After(after) {
			return r, true
		}
	}
	return Rung{}, false
}

// FirstDue is the number of the first rung that is no nudge; 0 where there is none.
func FirstDue(rungs []Rung) int {
	for _, r := range rungs {
		if !r.Nudge {
			return r.No
		}
	}
	return 0
}

// Waiting gives the rung of a number that has waited for the night to end, due when it
// ended. None: a higher one came due since, or the ladder was begun anew.
func Waiting(rungs []Rung, number string, due, now time.Time) []Rung {
	if _, climbed := Highest(rungs, due, now); climbed {
		return nil
	}
	for _, r := range rungs {
		if strconv.Itoa(r.No) == number && r.At.Before(due) {
			r.At = due
			return []Rung{r}
		}
	}
	return nil
}

// Skip gives the first rung of a task that a reminder put off until then does not
// replace: one for others than the list is not put off by those on it.
func Skip(s *shop.Shop, n Name, now, until time.Time) time.Time {
	for _, r := range Rungs(s, n.Date, n.Task) {
		if r.At.After(now) && (r.To != shop.List || r.At.After(until)) {
			return r.At
		}
	}
	return time.Time{}
}

// LateAfter is how much later than planned a deadline is taken for one that waited while
// the program was down.
const LateAfter = 5 * time.Minute

// Overtaken gives, of the rungs that came due from one instant to another, the one that speaks
// now. When the program was down meanwhile that is the highest for whoever is told first, who
// can act, and later are those for others, at the instants at which they speak instead: as
// long after it as by the ladder, but before the next rung of all. ok is false where none did.
func Overtaken(rungs []Rung, due, now time.Time) (first Rung, later []Rung, ok bool) {
	if first, ok = Highest(rungs, due, now); !ok || now.Sub(due) <= LateAfter {
		return first, nil, ok
	}
	ok = false
	for _, r := range rungs {
		switch {
		case r.At.Before(due) || r.At.After(now):
		case !ok || r.To == first.To && len(later) == 0:
			first, ok = r, true
		default:
			later = append(later, r)
		}
	}
	next, more := Next(rungs, now)
	for i, r := range later {
		wait := time.Duration(r.after-first.after) * time.Minute
		if more {
			wait = min(wait, next.At.Sub(now)/2)
		}
		later[i].At = now.Add(wait)
	}
	return first, later, ok
}

// OfNumber finds a rung by its number.
func OfNumber(rungs []Rung, no int) (Rung, bool) {
	for _, r := range rungs {
		if r.No == no {
			return r, true
		}
	}
	return Rung{}, false
}

// Traded reports whether a shop was to trade on any of so many days up to a date.
func Traded(s *shop.Shop, until shop.Date, days int) bool {
	for date := until.Add(-days); date <= until; date = date.Add(1) {
		if On(s, date).Closed == Trading {
			return true
		}
	}
	return false
}

// Highest gives the last rung from one instant to another, both included: what
// is to be said when several came due at once.
func Highest(rungs []Rung, from, to time.Time) (best Rung, ok bool) {
	for _, r := range rungs {
		if !r.At.Before(from) && !r.At.After(to) {
			best, ok = r, true
		}
	}
	return best, ok
}
