package reminding

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
)

// dueKey names the message about a task of a day within each chat.
func dueKey(c *engine.Talk, n reminders.Name) string { return n.Key(machineOf(c)) }

// machineOf is the machine at hand where the shop has several, else 0.
func machineOf(c *engine.Talk) shop.MachineID {
	if len(c.F.Shop.Machines) < 2 {
		return 0
	}
	return c.M.ID
}

// at is what is laid down and what the books say of a machine.
func at(c *engine.Talk, m *books.Machine) tasks.At {
	return tasks.At{Shop: c.F.Shop, Machine: m, DayOf: c.DayOf}
}

// needs reports whether a task is still to be done by the books.
func needs(c *engine.Talk, m *books.Machine, n reminders.Name) bool { return at(c, m).Needed(n) }

// reach is what is known of the people: who can be written to, and who was told under a key.
func reach(c *engine.Talk, key string) (r tasks.Reach) {
	if c.F.Ask.Phones != nil {
		r.Phones = c.F.Ask.Phones()
	}
	if c.F.Ask.Told != nil {
		r.Told = c.F.Ask.Told(key)
	}
	return r
}

// tellDue says that a task is to be done, to everybody the rung is for. Whoever has the
// message already, by another way or often enough, sees it change. While the machine must
// not be loaded, the opening is not asked for.
func tellDue(c *engine.Talk, n reminders.Name, r reminders.Rung, but ...shop.PersonID) {
	if n.Task == reminders.Opening && c.F.Shop.Plan.Hold != nil {
		tellHold(c, n, r)
		return
	}
	known := reach(c, dueKey(c, n))
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
		reply := chat.Reply{Body: []chat.Block{chat.Lines(dueLines(c, n, r, p, known)...)},
			Buttons: dueButtons(c, n), Key: dueKey(c, n), Silent: r.Nudge}
		if known.Folds(id, r.To) {
			reply.Edit = reply.Key
		} else {
			reply.Retire = reply.Key
		}
		c.TellPerson(id, reply)
	}
}

// dueLines word a reminder: the task, its day and its time, never an amount, and nothing
// about the reader.
func dueLines(
	c *engine.Talk, n reminders.Name, r reminders.Rung, to shop.Person, known tasks.Reach,
) []string {
	due, _ := reminders.Due(c.F.Shop, n.Date, n.Task)
	subject := at(c, c.M).Subject(n)
	fill := []any{"when", c.Clock(due), "day", c.V.Day(subject.Time())}
	task := string(n.Task)
	switch {
	case n.Task == reminders.Closing && !c.F.Shop.Nightly:
		task = "figures"
	case n.Task == reminders.Closing && subject < n.Date:
		task = "closing-old" // loaded on an earlier day, and not counted since
	}
	if r.Nudge {
		return []string{c.V.Say("due.soon-"+task, fill...), c.Which()}
	}
	lines := []string{c.V.Say("due."+task, fill...), c.Which()}
	switch p := at(c, c.M).Unclosed(n.Date.Add(-1)); {
	case n.Task == reminders.Unclosed:
		lines = append(lines, c.V.Say("due.why-"+string(at(c, c.M).Unclosed(n.Date).Status)))
	case n.Task == reminders.Opening && p != nil && p.Status == books.Open:
		lines = append(lines, c.V.Say("due.open-anyway", "day", c.V.Day(c.DayOf(p).Time())))
	}
	if names := namesOf(c, known.Others(to.ID)); r.To != shop.List && names != "" {
		lines = append(lines, c.V.Say("due.told", "who", names))
	}
	for _, a := range c.F.Others {
		if !c.Stale(a) && a.Person != to.ID {
			lines = append(lines, c.V.Say("due.busy", "who", c.Name(a.Person), "when", c.Clock(a.Since)))
		}
	}
	return append(lines, c.V.Say("due.ask"))
}

func namesOf(c *engine.Talk, ids []shop.PersonID) string {
	var names []string
	for _, id := range ids {
		names = append(names, c.Name(id))
	}
	return strings.Join(names, ", ")
}

// refOf writes what a reminder's button is about, see [reminderRef].
func refOf(c *engine.Talk, n reminders.Name) string {
	return string(n.Task) + "." + compact(n.Date) + "." + strconv.FormatInt(int64(c.State.Machine), 10)
}

// startButton begins what is due.
func startButton(c *engine.Talk, n reminders.Name) []chat.Button {
	label := "start-" + string(n.Task)
	if n.Task == reminders.Closing && !c.F.Shop.Nightly {
		label = "start-figures"
	}
	return c.Button(label, "o:start:"+refOf(c, n))
}

// dueButtons start the task, put it off, or say that it is not to be done today; what is
// rarer stands behind More. What a tap may do is checked again when it comes.
func dueButtons(c *engine.Talk, n reminders.Name) [][]chat.Button {
	ref := refOf(c, n)
	rows := [][]chat.Button{startButton(c, n)}
	if n.Task == reminders.Unclosed {
		return rows
	}
	return append(rows, c.Button("in-30", "o:later:"+ref+".30"), c.Button("not-today", "o:mute:"+ref),
		c.Button("more", "o:rarer:"+ref))
}

// rarerButtons stand behind More.
func rarerButtons(c *engine.Talk, n reminders.Name) [][]chat.Button {
	ref := refOf(c, n)
	rows := [][]chat.Button{startButton(c, n),
		slices.Concat(c.Button("in-15", "o:later:"+ref+".15"), c.Button("in-60", "o:later:"+ref+".60"))}
	if c.F.Person.Acts().Manages() && n.Task != reminders.Filling {
		rows = append(rows, c.Button("closed-today", "o:closed:"+ref))
	}
	return rows
}

// Numbers of reminders of a task beside its ladder and the times somebody put it off.
const (
	afterNight = snoozeMax + 1 // waits for a quiet night to end
	afterCount = snoozeMax + 2 // waits for a count that moves
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
	key := "still-" + dueKey(c, n)
	var asked time.Time
	for _, t := range reach(c, key).Told {
		if a != nil && t.Person == a.Person {
			asked = t.Last
		}
	}
	do, again := tasks.Counting(a, asked, c.In.At)
	if do == tasks.AskThem {
		ref := refOf(c, n)
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
func shopwide(c *engine.Talk) bool { return c.F.Shop.Machines[0].ID == c.State.Machine }

// tellEve says the day before that a public holiday comes, and that the shop is
// taken to be closed.
func tellEve(c *engine.Talk, n reminders.Name) {
	next := reminders.On(c.F.Shop, n.Date.Add(1))
	if !shopwide(c) {
		return
	}
	c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.Managers), chat.Reply{
		Body:    []chat.Block{{Text: c.V.Say("due.holiday", "what", next.Holiday)}},
		Buttons: [][]chat.Button{c.Button("usual", "o:usual:"+compact(next.Date))},
		Key:     dueKey(c, n), Silent: true})
}

// unclosed finds the oldest period that is not closed up to a date, or nil.
func unclosed(c *engine.Talk, date shop.Date) *books.Period { return at(c, c.M).Unclosed(date) }

// whyClosed says why a shop does not trade on a day.
func whyClosed(c *engine.Talk, d reminders.Day) string {
	if d.Closed == reminders.Public {
		return d.Holiday
	}
	return c.V.Say("closed." + string(d.Closed))
}
