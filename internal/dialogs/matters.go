package dialogs

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// A matter stays open until somebody sees to it, and climbs a ladder that
// begins when it does. Its deadline is named by its prefix and number, and is
// planned first by climb.
type matter struct {
	prefix string
	task   reminders.Task
	began  func(c *talk, no int64) (time.Time, bool) // false: it is not open any more
	tell   func(c *talk, no int64, r reminders.Rung)
}

// ticksName begins the name of a checklist's deadline and card.
const ticksName = "ticks-"

// dueMatter answers the deadline of a matter and plans the next one.
func (c *talk) dueMatter(list []matter) {
	for _, m := range list {
		number, ok := strings.CutPrefix(c.in.Text, m.prefix)
		no, err := strconv.ParseInt(number, 10, 64)
		if !ok || err != nil {
			continue
		}
		if began, open := m.began(c, no); open {
			c.climb(c.in.Text, began, m.task)
			c.onLadder(reminders.Climb(c.f.Shop, began, m.task),
				func(at time.Time) { c.deadline(c.in.Text, at) }, func(r reminders.Rung) { m.tell(c, no, r) })
		}
		return
	}
}

// onLadder lets the highest rung that came due speak, once. In a quiet night it
// waits for the morning.
func (c *talk) onLadder(rungs []reminders.Rung, wait func(time.Time), tell func(reminders.Rung)) {
	r, ok := reminders.Highest(rungs, c.in.Due, c.in.At)
	switch {
	case !ok, c.in.Again:
	case reminders.Quiet(c.f.Shop, c.in.At):
		wait(reminders.Awake(c.f.Shop, c.in.At))
	default:
		tell(r)
	}
}

// climb plans the first rung of a matter that began at an instant and may stay
// open for long.
func (c *talk) climb(name string, began time.Time, task reminders.Task) {
	r, _ := reminders.Next(reminders.Climb(c.f.Shop, began, task), c.in.At)
	c.deadline(name, r.At)
}

// deadline asks for a reminder at an instant; a zero time drops it.
func (c *talk) deadline(name string, at time.Time) {
	c.Deadlines = append(c.Deadlines, Deadline{Name: name, At: at})
}

// whoHas are those a rung tells: at first whoever the matter is with.
func (c *talk) whoHas(
	by shop.PersonID, date shop.Date, task reminders.Task, r reminders.Rung,
) []shop.PersonID {
	if _, works := c.f.Shop.Person(by); works && r.To == shop.List {
		return []shop.PersonID{by}
	}
	return reminders.People(c.f.Shop, date, task, r.To)
}

func ticksBegan(c *talk, no int64) (time.Time, bool) {
	p := c.m.Period(no)
	if p == nil || len(p.Ticks) == 0 || p.Status != books.Open {
		return time.Time{}, false
	}
	return p.TicksAt, true
}

// tellTicks shows the checklist again: to whoever opened, then to those above.
func (c *talk) tellTicks(no int64, r reminders.Rung) {
	p := c.m.Period(no)
	card := c.ticksCard(p, c.v.Say("ticks.again", "when", c.clock(p.Opened)))
	card.Retire = ticksKey(p.No)
	c.tellPeople(c.whoHas(p.By, c.dayOf(p), reminders.Ticks, r), card)
}
