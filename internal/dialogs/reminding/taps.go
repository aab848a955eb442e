package reminding

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
)

// snoozeMax is how often one person may put off a task of a day.
const snoozeMax = 3

// dayTasks are what reminders with buttons are about.
var dayTasks = []reminders.Task{
	reminders.Opening, reminders.Filling, reminders.Closing, reminders.Unclosed}

// The buttons of reminders: begin what is due, put it off, end it for the day, say that a count was left.
var (
	StartCard = card(engine.DoStart, tapStart)
	LaterCard = card(engine.DoLater, tapLater)
	MuteCard  = card(engine.DoMute, tapMute)
	GoneCard  = card(engine.DoGone, tapGone)
	RarerCard = card(engine.DoRarer, tapRarer) // shows the rarer buttons
)

func card(name string, tap func(*engine.Talk, string)) engine.Standing {
	return engine.Standing{Name: name, Tap: tap,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp)}
}

// reminderRef reads what a reminder's button is about: task.day.machine and perhaps more.
func reminderRef(c *engine.Talk, arg string) (n reminders.Name, rest []string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) < 3 {
		return n, nil, false
	}
	date, dated := rota.CompactDate(parts[1])
	machine, err := strconv.ParseInt(parts[2], 10, 64)
	n = reminders.Name{Date: date, Task: reminders.Task(parts[0])}
	known := slices.Contains(dayTasks, n.Task)
	if !dated || !known || err != nil || c.F.Shop.Machine(shop.MachineID(machine)) == nil {
		return n, nil, false
	}
	id := shop.MachineID(machine)
	if id != c.M.ID && c.Flow() == nil {
		c.State.Machine, c.Unsure = id, false // the next tap finds its books at hand
		c.Notice = c.V.Say("notice.turned", "machine", c.F.Shop.Machine(id).Name)
	}
	return n, parts[3:], id == c.M.ID
}

// tapStart begins the task a reminder is about.
func tapStart(c *engine.Talk, arg string) {
	if n, ok := stillDue(c, arg); ok {
		c.Unsure = false // the button names the machine
		c.CarryOut(startOf(c, n))
	}
}

// stillDue reads whose task a reminder's button is about. A button that names none, and
// one of a task that is done already, is answered here.
func stillDue(c *engine.Talk, arg string) (n reminders.Name, ok bool) {
	n, _, ok = reminderRef(c, arg)
	if !ok {
		c.UnknownTap()
		return n, false
	}
	if !rota.Needs(c.Teller, c.M, n) {
		alreadyDone(c, n)
		return n, false
	}
	return n, true
}

// startOf names the command that does a task.
func startOf(c *engine.Talk, n reminders.Name) string {
	switch {
	case n.Task == reminders.Opening:
		return engine.DoOpen
	case n.Task == reminders.Filling:
		return engine.DoTopUp
	case !c.F.Shop.Nightly && n.Task == reminders.Closing:
		return engine.DoSettle
	case n.Task == reminders.Unclosed && rota.TasksAt(c.Teller, c.M).Told(n.Date).Status != books.Open:
		return engine.DoFinish
	}
	return engine.DoClose
}

// alreadyDone answers a tap about a task that is done already.
func alreadyDone(c *engine.Talk, n reminders.Name) {
	c.Notice = c.V.Say("notice.done")
	c.Rewrite(chat.Reply{Key: rota.DueKey(c.Teller, n), Body: []chat.Block{
		chat.Lines(rota.DoneWord(c.Teller, n), c.Which(), rota.DoneBy(c.Teller, n))}})
}

// tapLater puts a reminder off. What the list would be told until then is left
// out; a manager's or owner's turn comes when it comes.
func tapLater(c *engine.Talk, arg string) {
	n, rest, ok := reminderRef(c, arg)
	if !ok || len(rest) != 1 || !slices.Contains([]string{"15", "30", "60"}, rest[0]) {
		c.UnknownTap()
		return
	}
	if !rota.Needs(c.Teller, c.M, n) {
		alreadyDone(c, n)
		return
	}
	key := rota.DueKey(c.Teller, n)
	if c.State.Snoozed[key] >= snoozeMax {
		c.Notice = c.V.Say("notice.often", "n", snoozeMax)
		return
	}
	minutes, _ := strconv.Atoi(rest[0])
	until := c.In.At.Add(time.Duration(minutes) * time.Minute)
	later := n
	later.Later, later.For = snooze(c, key), c.F.Person.ID
	plan(c, later, until)
	plan(c, n, reminders.Skip(c.F.Shop, n, c.In.At, until))
	c.Rewrite(chat.Reply{Key: key,
		Body:    []chat.Block{chat.Lines(c.V.Say("due.later", "when", c.Clock(until)), c.Which())},
		Buttons: [][]chat.Button{rota.StartButton(c.Teller, n)}})
}

// tapRarer shows a reminder again with its rarer buttons.
func tapRarer(c *engine.Talk, arg string) {
	if n, ok := stillDue(c, arg); ok {
		rung := reminders.Rung{To: shop.List}
		c.Rewrite(chat.Reply{Key: rota.DueKey(c.Teller, n), Buttons: rota.RarerButtons(c.Teller, n),
			Body: []chat.Block{chat.Lines(rota.DueLines(c.Teller, n, rung, c.F.Person, tasks.Reach{})...)}})
	}
}

// tapMute ends the reminders of a day; the managers are told.
func tapMute(c *engine.Talk, arg string) {
	n, _, ok := reminderRef(c, arg)
	if !ok {
		c.UnknownTap()
		return
	}
	settle(c, shop.Change{From: n.Date, To: n.Date, Mute: true})
}

// tapGone asks the others to go on with a count that somebody had to leave.
func tapGone(c *engine.Talk, arg string) {
	n, _, ok := reminderRef(c, arg)
	if !ok {
		c.UnknownTap()
		return
	}
	key := "still-" + rota.DueKey(c.Teller, n)
	c.Rewrite(chat.Reply{Key: key, Body: []chat.Block{chat.Lines(c.V.Say("due.gone"), c.Which())}})
	c.State.Left = true
	tellDue(c, n, reminders.Rung{To: shop.List}, c.F.Person.ID)
	rungs := reminders.Rungs(c.F.Shop, n.Date, n.Task)
	if r, due := reminders.Highest(rungs, time.Time{}, c.In.At); due && r.To != shop.List {
		tellDue(c, n, r, c.F.Person.ID)
	}
}

// snooze counts how often the speaker put a task off, and forgets older ones.
func snooze(c *engine.Talk, key string) int {
	oldest := "due-" + string(c.Today().Add(-2))
	kept := map[string]int{}
	for k, n := range c.State.Snoozed {
		if k >= oldest {
			kept[k] = n
		}
	}
	kept[key]++
	c.State.Snoozed = kept
	return kept[key]
}

// settles makes a tap that lays a change down, for a manager. It takes the place
// of the message with a key that asked for it; an empty key is none.
func settles(read func(*engine.Talk, string) (shop.Change, string, bool)) func(*engine.Talk, string) {
	return func(c *engine.Talk, arg string) {
		change, key, ok := read(c, arg)
		switch {
		case !ok:
			c.UnknownTap()
		case !manages(c):
		case !rota.May(c.Teller, change):
			c.Notice = c.V.Say("notice.owner")
		default:
			settle(c, change)
			if key != "" {
				c.RewriteAll(key, chat.Block{Text: rota.Word(c.Teller, "changed.", change)})
			}
		}
	}
}

// tappedClosed says that the shop is closed on the day of a reminder.
func tappedClosed(c *engine.Talk, arg string) (change shop.Change, key string, ok bool) {
	n, _, ok := reminderRef(c, arg)
	return shop.Change{From: n.Date, To: n.Date, Closed: true}, "", ok
}

// spoken reads a tap whose button says all of the change.
func spoken(
	read func(*telling.Teller, string) (shop.Change, string, bool),
) func(*engine.Talk, string) (shop.Change, string, bool) {
	return func(c *engine.Talk, arg string) (shop.Change, string, bool) { return read(c.Teller, arg) }
}

// manages reports whether the speaker is a manager now, and says so if not.
func manages(c *engine.Talk) bool {
	if c.F.Person.Role.Manages() {
		return true
	}
	c.Notice = c.V.Say("notice.manager")
	return false
}
