package reminding

import (
	"slices"
	"strconv"
	"time"

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
			Buttons: dueButtons(c, n), Key: rota.DueKey(c.Teller, n), Silent: r.Nudge}
		if known.Folds(id, r.To) {
			reply.Edit = reply.Key
		} else {
			reply.Retire = reply.Key
		}
		c.TellPerson(id, reply)
	}
}

// refOf writes what a reminder's button is about, see [reminderRef].
func refOf(c *engine.Talk, n reminders.Name) string {
	return string(n.Task) + "." + rota.Compact(n.Date) + "." + strconv.FormatInt(int64(c.State.Machine), 10)
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
		c.Button("unfold", "o:rarer:"+ref))
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
	key := "still-" + rota.DueKey(c.Teller, n)
	var asked time.Time
	for _, t := range rota.Reached(c.Teller, key).Told {
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
		Buttons: [][]chat.Button{c.Button("usual", "o:usual:"+rota.Compact(next.Date))},
		Key:     rota.DueKey(c.Teller, n), Silent: true})
}
