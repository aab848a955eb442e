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

// openMatters lists what is asked for again until it is done.
func openMatters() []matter {
	return []matter{
		{prefix: ticksName, task: reminders.Ticks, began: ticksBegan, tell: (*talk).tellTicks},
	}
}

// ticksName begins the name of a checklist's deadline and card.
const ticksName = "ticks-"

// dueMatter answers the deadline of a matter; the highest rung that came due
// speaks, and the next one is planned.
func (c *talk) dueMatter() {
	for _, m := range openMatters() {
		number, ok := strings.CutPrefix(c.in.Text, m.prefix)
		no, err := strconv.ParseInt(number, 10, 64)
		if !ok || err != nil {
			continue
		}
		began, open := m.began(c, no)
		if !open {
			return
		}
		c.climb(c.in.Text, began, m.task)
		r, ok := reminders.Highest(reminders.Climb(c.f.Shop, began, m.task), c.in.Due, c.in.At)
		switch {
		case !ok || c.in.Again:
		case reminders.Quiet(c.f.Shop, c.in.At):
			c.Deadlines = append(c.Deadlines, Deadline{Name: c.in.Text, At: reminders.Awake(c.f.Shop, c.in.At)})
		default:
			m.tell(c, no, r)
		}
		return
	}
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
	people := reminders.People(c.f.Shop, c.dayOf(p), reminders.Ticks, r.To)
	if _, works := c.f.Shop.Person(p.By); works && r.To == shop.List {
		people = []shop.PersonID{p.By}
	}
	for _, id := range people {
		card := c.ticksCard(p, c.v.Say("ticks.again", "when", c.clock(p.Opened)))
		card.Retire = ticksKey(p.No)
		c.tellPerson(id, card)
	}
}
