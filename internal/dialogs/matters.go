package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// dueMatter answers the deadline of a matter that stays open until somebody
// sees to it: so far an opening's checklist.
func (c *talk) dueMatter() {
	no, err := strconv.ParseInt(strings.TrimPrefix(c.in.Text, ticksKey(0)[:len(ticksKey(0))-1]), 10, 64)
	if err != nil {
		return
	}
	p := c.m.Period(no)
	if p == nil || len(p.Ticks) == 0 || p.Status != books.Open {
		return
	}
	c.climb(c.in.Text, p.TicksAt, reminders.Ticks)
	r, ok := reminders.Highest(reminders.Climb(c.f.Shop, p.TicksAt, reminders.Ticks), c.in.Due, c.in.At)
	switch {
	case !ok || c.in.Again:
	case reminders.Quiet(c.f.Shop, c.in.At):
		c.Deadlines = append(c.Deadlines, Deadline{Name: c.in.Text, At: reminders.Awake(c.f.Shop, c.in.At)})
	default:
		c.tellTicks(p, r)
	}
}

// tellTicks shows the checklist again: to whoever opened, then to those above.
func (c *talk) tellTicks(p *books.Period, r reminders.Rung) {
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
