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
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// snoozeMax is how often one person may put off a task of a day.
const snoozeMax = 3

// dayTasks are what reminders with buttons are about.
var dayTasks = []reminders.Task{
	reminders.Opening, reminders.Filling, reminders.Closing, reminders.Unclosed}

// StartCard is the button of reminders that begins what is due.
func StartCard() engine.Standing {
	return engine.Standing{Name: engine.DoStart,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: tapStart}
}

// LaterCard is the button of reminders that puts them off.
func LaterCard() engine.Standing {
	return engine.Standing{Name: engine.DoLater,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: tapLater}
}

// reminderRef reads what a reminder's button is about: task.day.machine and
// perhaps more.
func reminderRef(c *engine.Talk, arg string) (n reminders.Name, rest []string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) < 3 {
		return n, nil, false
	}
	date, dated := compactDate(parts[1])
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

// compact writes a date as 20261125, which leaves room in a button.
func compact(d shop.Date) string { return strings.ReplaceAll(string(d), "-", "") }

// compactDate reads it back.
func compactDate(s string) (shop.Date, bool) {
	t, err := time.Parse("20060102", s)
	return shop.DateOf(t), err == nil
}

// tapStart begins the task a reminder is about.
func tapStart(c *engine.Talk, arg string) {
	n, _, ok := reminderRef(c, arg)
	switch {
	case !ok:
		c.UnknownTap()
	case !needs(c, c.M, n):
		alreadyDone(c, n)
	default:
		c.Unsure = false // the button names the machine
		c.CarryOut(startOf(c, n))
	}
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
	case n.Task == reminders.Unclosed && unclosed(c, n.Date).Status != books.Open:
		return engine.DoFinish
	}
	return engine.DoClose
}

// alreadyDone answers a tap about a task that is done already.
func alreadyDone(c *engine.Talk, n reminders.Name) {
	c.Notice = c.V.Say("notice.done")
	c.Rewrite(chat.Reply{Key: dueKey(c, n),
		Body: []chat.Block{chat.Lines(doneWord(c, n), c.Which(), doneBy(c, n))}})
}

// doneWord says that a task is done; of a closing also when only the count is in.
func doneWord(c *engine.Talk, n reminders.Name) string {
	for _, p := range c.M.Periods {
		if n.Task == reminders.Closing && c.DayOf(p) == n.Date && p.Status == books.Waiting {
			return c.V.Say("due.done-counted")
		}
	}
	if n.Task == reminders.Closing && !c.F.Shop.Nightly {
		return c.V.Say("due.done-figures")
	}
	return c.V.Say("due.done-" + string(n.Task))
}

// doneBy tells who did a task and when, as far as the books at hand tell.
func doneBy(c *engine.Talk, n reminders.Name) string {
	for _, p := range slices.Backward(c.M.Periods) {
		switch {
		case c.DayOf(p) > n.Date && n.Task != reminders.Opening:
		case n.Task == reminders.Opening:
			return c.V.Say("due.done-by", "who", c.Name(p.By), "when", c.Clock(p.Opened))
		case n.Task == reminders.Unclosed && p.Status == books.Closed:
			return c.V.Say("due.done-by", "who", c.Name(p.EndedBy), "when", c.Clock(p.Ended))
		case n.Task == reminders.Closing && p.Status != books.Open:
			return c.V.Say("due.done-by", "who", c.Name(p.CountedBy), "when", c.Clock(p.CountedAt))
		}
	}
	return ""
}

// tapLater puts a reminder off. What the list would be told until then is left
// out; a manager's or owner's turn comes when it comes.
func tapLater(c *engine.Talk, arg string) {
	n, rest, ok := reminderRef(c, arg)
	if !ok || len(rest) != 1 || !slices.Contains([]string{"15", "30", "60"}, rest[0]) {
		c.UnknownTap()
		return
	}
	if !needs(c, c.M, n) {
		alreadyDone(c, n)
		return
	}
	key := dueKey(c, n)
	if c.State.Snoozed[key] >= snoozeMax {
		c.Notice = c.V.Say("notice.often", "n", snoozeMax)
		return
	}
	minutes, _ := strconv.Atoi(rest[0])
	until := c.In.At.Add(time.Duration(minutes) * time.Minute)
	later := n
	later.Later, later.For = snooze(c, key), c.F.Person.ID
	plan(c, later, until)
	plan(c, n, skip(c, n, until))
	c.Rewrite(chat.Reply{Key: key,
		Body:    []chat.Block{chat.Lines(c.V.Say("due.later", "when", c.Clock(until)), c.Which())},
		Buttons: [][]chat.Button{startButton(c, n)}})
}

// RarerCard shows the rarer buttons of a reminder.
func RarerCard() engine.Standing {
	return engine.Standing{Name: engine.DoRarer,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: tapRarer}
}

// tapRarer shows a reminder again with its rarer buttons.
func tapRarer(c *engine.Talk, arg string) {
	n, _, ok := reminderRef(c, arg)
	switch {
	case !ok:
		c.UnknownTap()
	case !needs(c, c.M, n):
		alreadyDone(c, n)
	default:
		rung := reminders.Rung{To: shop.List}
		c.Rewrite(chat.Reply{Key: dueKey(c, n), Buttons: rarerButtons(c, n),
			Body: []chat.Block{chat.Lines(dueLines(c, n, rung, c.F.Person, tasks.Reach{})...)}})
	}
}

// MuteCard is the button of reminders that ends them for the day.
func MuteCard() engine.Standing {
	return engine.Standing{Name: engine.DoMute,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: tapMute}
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

// GoneCard is the button of somebody who had to leave a count.
func GoneCard() engine.Standing {
	return engine.Standing{Name: engine.DoGone,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: tapGone}
}

// tapGone asks the others to go on with a count that somebody had to leave.
func tapGone(c *engine.Talk, arg string) {
	n, _, ok := reminderRef(c, arg)
	if !ok {
		c.UnknownTap()
		return
	}
	key := "still-" + dueKey(c, n)
	c.Rewrite(chat.Reply{Key: key, Body: []chat.Block{chat.Lines(c.V.Say("due.gone"), c.Which())}})
	if r, due := reminders.Highest(reminders.Rungs(c.F.Shop, n.Date, n.Task), time.Time{}, c.In.At); due {
		tellDue(c, n, r, c.F.Person.ID)
	}
}

// skip gives the first rung of a task that a reminder put off does not replace.
func skip(c *engine.Talk, n reminders.Name, until time.Time) time.Time {
	for _, r := range reminders.Rungs(c.F.Shop, n.Date, n.Task) {
		if r.At.After(c.In.At) && (r.To != shop.List || r.At.After(until)) {
			return r.At
		}
	}
	return time.Time{}
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
		default:
			settle(c, change)
			if key != "" {
				c.RewriteAll(key, chat.Block{Text: changed(c, "changed.", change)})
			}
		}
	}
}

// tappedClosed says that the shop is closed on the day of a reminder.
func tappedClosed(c *engine.Talk, arg string) (change shop.Change, key string, ok bool) {
	n, _, ok := reminderRef(c, arg)
	return shop.Change{From: n.Date, To: n.Date, Closed: true}, "", ok
}

// tappedUsual says that the shop trades on a public holiday.
func tappedUsual(c *engine.Talk, arg string) (change shop.Change, key string, ok bool) {
	date, ok := compactDate(arg)
	return shop.Change{From: date, To: date, Usual: true},
		dueKey(c, reminders.Name{Date: date.Add(-1), Task: reminders.Eve}), ok
}

// tappedDuty gives somebody's task to another.
func tappedDuty(c *engine.Talk, arg string) (change shop.Change, key string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 || parts[0] != "opens" && parts[0] != "closes" {
		return change, "", false
	}
	date, dated := compactDate(parts[1])
	id, err := strconv.ParseInt(parts[2], 10, 64)
	_, works := c.F.Shop.Person(shop.PersonID(id))
	change = shop.Change{From: date, To: date, Duty: dutyOf(shop.PersonID(id), parts[0] == "opens")}
	return change, "", dated && err == nil && works
}

// tappedSay makes a change that somebody else asked a manager for, see [spoken].
func tappedSay(_ *engine.Talk, arg string) (change shop.Change, key string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		return change, "", false
	}
	from, okFrom := compactDate(parts[1])
	to, okTo := compactDate(parts[2])
	change = shop.Change{From: from, To: to}
	what, minutes, _ := strings.Cut(parts[0], "-")
	m, err := strconv.Atoi(minutes)
	switch {
	case what == "open" && err == nil && m >= 0 && m < 24*60:
		change.Open = &m
	case what == "close" && err == nil && m >= 0 && m <= 24*60:
		change.Close = &m
	default:
		change.Usual, change.Off, change.Closed = what == "usual", what == "off", what == "closed"
	}
	meant := change.Open != nil || change.Close != nil || change.Usual || change.Silences()
	return change, sayKey(change), okFrom && okTo && to >= from && meant
}

// sayKey names the message that asks managers for a change.
func sayKey(change shop.Change) string { return "say-" + spoken(change) }

// manages reports whether the speaker is a manager now, and says so if not.
func manages(c *engine.Talk) bool {
	if c.F.Person.Role.Manages() {
		return true
	}
	c.Notice = c.V.Say("notice.manager")
	return false
}

// spoken writes a change that only a manager may make as a button does:
// closed.20261224.20261227, or close-900.20261125.20261125.
func spoken(change shop.Change) string {
	what := "closed"
	switch {
	case change.Open != nil:
		what = "open-" + strconv.Itoa(*change.Open)
	case change.Close != nil:
		what = "close-" + strconv.Itoa(*change.Close)
	case change.Usual:
		what = "usual"
	case change.Off:
		what = "off"
	}
	return what + "." + compact(change.From) + "." + compact(change.To)
}

// absent names the words for somebody who cannot come: the speaker or another.
func absent(c *engine.Talk, how string, change shop.Change) string {
	return texts.Either(how == "shift." && change.Absent != c.F.Person.ID, "absent", "ill")
}

// changed words a change, as it is asked or as it is told.
func changed(c *engine.Talk, how string, change shop.Change) string {
	fill := []any{"days", c.Between(change.From, change.To), "who", c.F.Person.Name}
	switch {
	case change.Absent != 0:
		return c.V.Say(how+absent(c, how, change), append(fill, "name", c.Name(change.Absent))...)
	case change.Duty.Opens != 0:
		return c.V.Say(how+"opens", append(fill, "name", c.Name(change.Duty.Opens))...)
	case change.Duty.Closes != 0:
		return c.V.Say(how+"closes", append(fill, "name", c.Name(change.Duty.Closes))...)
	case change.Open != nil:
		return c.V.Say(how+"opening-at", append(fill, "time", telling.ClockText(*change.Open))...)
	case change.Close != nil:
		return c.V.Say(how+"closing-at", append(fill, "time", telling.ClockText(*change.Close))...)
	case change.Usual:
		return c.V.Say(how+"usual", fill...)
	case change.Off:
		return c.V.Say(how+"nobody", fill...)
	case change.Mute:
		return c.V.Say(how+"mute", fill...)
	}
	return c.V.Say(how+"closed", fill...)
}
