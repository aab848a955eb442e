package reminding

import (
	"slices"
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

// tellDue says that a task is to be done, to everybody the rung is for. Whoever has the
// message already, by another way or often enough, sees it change. While the machine must
// not be loaded, the opening is not asked for.
func tellDue(c *engine.Talk, n reminders.Name, r reminders.Rung, but ...shop.PersonID) {
	if n.Task == reminders.Opening && c.F.Shop.Plan.Hold != nil {
		tellHold(c, n, r)
		return
	}
	if rota.Spared(c.Teller, n, r) {
		return
	}
	known := rota.Reached(c.Teller, rota.DueKey(c.Teller, n))
	whom := known.Whom(c.F.Shop, n, r.To)
	if slices.Contains(whom, n.For) {
		whom = []shop.PersonID{n.For} // the others did not put it off
	}
	n.Later, n.For = 0, 0
	for _, id := range whom {
		if slices.Contains(but, id) {
			continue
		}
		p, _ := c.F.Shop.Person(id)
		reply := chat.Reply{Body: []chat.Block{chat.Lines(rota.DueLines(c.Teller, n, r, p, known)...)},
			Buttons: rota.DueButtons(c.Teller, n), Key: rota.DueKey(c.Teller, n), Silent: r.Nudge}
		if known.Folds(id, r.To) {
			reply.Edit = reply.Key
		} else {
			reply.Retire = reply.Key
		}
		c.TellPerson(id, reply)
	}
}

// Numbers of reminders of a task beside its ladder and the times somebody put it off.
const (
	afterNight = snoozeMax + 1 // waits for a quiet night to end
	afterCount = snoozeMax + 2 // waits for a count that moves
	// with the number of a rung: waits until those have heard who can act first
	afterOutage = 100
)

// atWork finds who is at the machine in a dialog that keeps others out of it, or nil.
func atWork(c *engine.Talk) *chat.Activity {
	for i := range c.F.Others {
		a := &c.F.Others[i]
		if f := c.E.Flows[a.Flow]; f != nil && f.Company == engine.OneAtATime && !c.Stale(*a) {
			return a
		}
	}
	return nil
}

// counting reports whether a reminder waits because somebody is at the count it is about.
// When that stands still they are asked first.
func counting(c *engine.Talk, n reminders.Name) bool {
	a := atWork(c)
	key := "still-" + rota.DueKey(c.Teller, n)
	var asked time.Time
	for _, t := range rota.Reached(c.Teller, key).Told {
		if a != nil && t.Person == a.Person {
			asked = t.Last
		}
	}
	do, again := tasks.Counting(a, asked, c.In.At)
	if do == tasks.AskThem {
		ref := rota.RefOf(c.Teller, n)
		c.TellPerson(a.Person, chat.Reply{Key: key, Retire: key,
			Body:    []chat.Block{chat.Lines(c.V.Say("due.still-"+string(n.Task)), c.Which())},
			Buttons: [][]chat.Button{c.Button("still-on", "o:start:"+ref), c.Button("had-to-go", "o:gone:"+ref)}})
	}
	if do != tasks.GoAhead {
		n.Later = afterCount
		plan(c, n, again)
	}
	return do != tasks.GoAhead
}

// shopwide reports whether what is about the shop is said with this machine: with its first.
func shopwide(c *engine.Talk) bool {
	c.Shopwide = true
	return c.F.Shop.Machines[0].ID == c.State.Machine
}

// tellEve says the day before that a public holiday comes.
func tellEve(c *engine.Talk, n reminders.Name) {
	if shopwide(c) {
		c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.Managers), rota.Eve(c.Teller, n))
	}
}

// levelName begins the name of the deadline at which levels are worth a look.
const levelName = "level:"

// levelLead is how long before a kind of note may run out somebody is nudged.
const levelLead = 45 * time.Minute

// planLevel plans the nudge for the open period: before the first kind of note is expected to run out, if
// that is before the shop closes. What was expected before this step is replaced.
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

// dueLevel nudges once. Where the levels are known to last longer by now, the nudge has been moved already.
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
