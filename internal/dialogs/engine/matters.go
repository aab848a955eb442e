package engine

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
)

// A matter stays open until somebody sees to it, and climbs a ladder that begins when it does. Its deadline
// is named by its prefix and number, and is planned first by climb. A rung that waits for a quiet night to
// end has a deadline of its own, which names the rung as well.
type Matter struct {
	Prefix string
	Task   reminders.Task
	Began  func(t *telling.Teller, no int64) (time.Time, bool) // false: it is not open any more
	Tell   func(c *Talk, no int64, r reminders.Rung)
}

// DueMatter answers the deadline of a matter and plans the next one.
func (c *Talk) DueMatter(list []Matter) {
	for _, m := range list {
		name, rung, waited := strings.Cut(c.In.Text, ":")
		number, ok := strings.CutPrefix(name, m.Prefix)
		no, err := strconv.ParseInt(number, 10, 64)
		if !ok || err != nil {
			continue
		}
		began, open := m.Began(c.Teller, no)
		if !open {
			return
		}
		rungs := reminders.Climb(c.F.Shop, began, m.Task)
		if waited {
			rungs = reminders.Waiting(rungs, rung, c.In.Due, c.In.At)
		} else {
			c.Climb(name, began, m.Task)
		}
		c.OnLadder(rungs, func(r reminders.Rung, at time.Time) {
			c.Deadline(name+":"+strconv.Itoa(r.No), at)
		}, func(r reminders.Rung) { m.Tell(c, no, r) })
		return
	}
}

// OnLadder lets the rung that came due speak, once, see [reminders.Overtaken]; not in a quiet night.
func (c *Talk) OnLadder(
	rungs []reminders.Rung, wait func(reminders.Rung, time.Time), tell func(reminders.Rung),
) {
	r, later, ok := reminders.Overtaken(rungs, c.In.Due, c.In.At)
	switch {
	case !ok, c.In.Again:
	case reminders.Quiet(c.F.Shop, c.In.At):
		r, _ = reminders.Highest(rungs, c.In.Due, c.In.At)
		wait(r, reminders.Awake(c.F.Shop, c.In.At))
	default:
		tell(r)
		for _, r := range later {
			wait(r, r.At)
		}
	}
}

// Climb plans the first rung of a matter that began at an instant and may stay open for long.
func (c *Talk) Climb(name string, began time.Time, task reminders.Task) {
	r, _ := reminders.Next(reminders.Climb(c.F.Shop, began, task), c.In.At)
	c.Deadline(name, r.At)
}

// Deadline asks for a reminder at an instant; a zero time drops it.
func (c *Talk) Deadline(name string, at time.Time) {
	c.Deadlines = append(c.Deadlines, chat.Deadline{Name: name, At: at})
}

// Before is the machine's books as this step found them.
func (c *Talk) Before() *books.Machine {
	if c.F.Machine != nil {
		return c.F.Machine
	}
	return books.New(c.State.Machine)
}
