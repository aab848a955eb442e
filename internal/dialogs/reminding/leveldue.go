package reminding

import (
	"strconv"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
)

// levelName begins the name of the deadline at which levels are worth a look.
const levelName = "level:"

// levelLead is how long before a kind of note may run out somebody is nudged.
const levelLead = 45 * time.Minute

// planLevel plans the nudge for the open period: before the first kind of note
// is expected to run out, if that is before the shop closes. What was expected
// before this step is replaced.
func planLevel(c *engine.Talk) {
	p := c.M.Current()
	if p == nil || c.F.Shop.Plan.NoLevels {
		return
	}
	d := chat.Deadline{Name: levelName + strconv.FormatInt(p.No, 10)}
	if end, ok := emptyAt(c, p); ok && end.Add(-levelLead).After(c.In.At) {
		d.At = end.Add(-levelLead)
		if soon := c.In.At.Add(tasks.Recent); d.At.Before(soon) { // somebody looked just now
			d.At = soon
		}
	} else if !mayBePlanned(c, p) {
		return
	}
	c.Deadlines = append(c.Deadlines, d)
}

// mayBePlanned reports whether an earlier step can have planned a nudge.
func mayBePlanned(c *engine.Talk, p *books.Period) bool {
	return !p.Opened.Equal(c.In.At.UTC()) && c.Before().Period(p.No) != nil
}

// emptyAt is when the first kind of note is expected to run out before closing.
func emptyAt(c *engine.Talk, p *books.Period) (time.Time, bool) {
	return advice.EmptyAt(c.M, p, reminders.On(c.F.Shop, c.Today()))
}

// dueLevel nudges once. Where the levels are known to last longer by now, the
// nudge has been moved already.
func dueLevel(c *engine.Talk) {
	p := c.M.Current()
	if p == nil || c.In.Again || rota.TasksAt(c.Teller, c.M).Looked(c.In.At) ||
		c.In.Text != levelName+strconv.FormatInt(p.No, 10) || reminders.Quiet(c.F.Shop, c.In.At) {
		return
	}
	end, ok := emptyAt(c, p)
	if !ok || end.Before(c.In.At.Add(-levelLead)) {
		return // it was due long ago
	}
	c.TellPeople(reminders.People(c.F.Shop, c.Today(), reminders.Closing, shop.List), chat.Reply{
		Body:    []chat.Block{chat.Lines(c.V.Say("due.level"), c.Which())},
		Buttons: [][]chat.Button{c.Button("start-level", "o:level:"+strconv.FormatInt(p.No, 10))}, Silent: true})
}
