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
)

// snoozeMax is how often one person may put off a task of a day.
const snoozeMax = 3

// StartCard and laterCard are buttons of reminders, which belong to no dialog.
func StartCard() engine.Standing {
	return engine.Standing{Name: engine.DoStart,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: tapStart}
}

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
	known := n.Task == reminders.Opening || n.Task == reminders.Closing || n.Task == reminders.Unclosed
	if !dated || !known || err != nil || c.F.Shop.Machine(shop.MachineID(machine)) == nil {
		return n, nil, false
	}
	if id := shop.MachineID(machine); id != c.State.Machine && c.State.Flow == "" {
		c.State.Machine = id // the next tap finds its books at hand
		c.Notice = c.V.Say("notice.turned", "machine", c.F.Shop.Machine(id).Name)
		return n, nil, false
	}
	return n, parts[3:], true
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
		c.CarryOut(startOf(c, n))
	}
}

// startOf names the command that does a task.
func startOf(c *engine.Talk, n reminders.Name) string {
	switch {
	case n.Task == reminders.Opening:
		return engine.DoOpen
	case !c.F.Shop.Nightly && n.Task == reminders.Closing:
		return engine.DoSettle
	case n.Task == reminders.Unclosed && unclosed(c, c.M, n.Date).Status != books.Open:
		return engine.DoFinish
	}
	return engine.DoClose
}

// alreadyDone answers a tap about a task that is done already.
func alreadyDone(c *engine.Talk, n reminders.Name) {
	c.Notice = c.V.Say("notice.done")
	c.Rewrite(
		chat.Reply{Key: dueKey(n), Body: []chat.Block{engine.Text(doneWord(c, n), c.Which(), doneBy(c, n))}})
}

// doneWord says that a task is done; of a closing also when only the count is in.
func doneWord(c *engine.Talk, n reminders.Name) string {
	for _, p := range c.M.Periods {
		if n.Task == reminders.Closing && c.DayOf(p) == n.Date && p.Status == books.Waiting {
			return c.V.Say("due.done-counted")
		}
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
	key := dueKey(n)
	if c.State.Snoozed[key] >= snoozeMax {
		c.Notice = c.V.Say("notice.often", "n", snoozeMax)
		return
	}
	minutes, _ := strconv.Atoi(rest[0])
	until := c.In.At.Add(time.Duration(minutes) * time.Minute)
	later := n
	later.Later = snooze(c, key)
	plan(c, later, until)
	plan(c, n, skip(c, n, until))
	ref := strings.TrimSuffix(arg, "."+rest[0])
	c.Rewrite(chat.Reply{Key: key,
		Body:    []chat.Block{engine.Text(c.V.Say("due.later", "when", c.Clock(until)), c.Which())},
		Buttons: [][]chat.Button{c.Button("start-"+string(n.Task), "o:start:"+ref)}})
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

// tapClosed says that the shop is closed that day.
func tapClosed(c *engine.Talk, arg string) {
	n, _, ok := reminderRef(c, arg)
	switch {
	case !ok:
		c.UnknownTap()
	case !manages(c):
	default:
		settle(c, shop.Change{From: n.Date, To: n.Date, Closed: true})
	}
}

// tapUsual says that the shop trades on a public holiday.
func tapUsual(c *engine.Talk, arg string) {
	date, ok := compactDate(arg)
	switch {
	case !ok:
		c.UnknownTap()
	case !manages(c):
	default:
		settle(c, shop.Change{From: date, To: date, Usual: true})
		c.RewriteAll(dueKey(reminders.Name{Date: date.Add(-1), Task: reminders.Eve}),
			chat.Block{Text: changed(c, "changed.", shop.Change{From: date, To: date, Usual: true})})
	}
}

// tapSay makes a change that somebody else asked a manager for.
func tapSay(c *engine.Talk, arg string) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		c.UnknownTap()
		return
	}
	from, okFrom := compactDate(parts[1])
	to, okTo := compactDate(parts[2])
	change := shop.Change{From: from, To: to}
	what, minutes, _ := strings.Cut(parts[0], "-")
	m, err := strconv.Atoi(minutes)
	switch {
	case what == "open" && err == nil && m >= 0 && m < 24*60:
		change.Open = &m
	case what == "close" && err == nil && m >= 0 && m <= 24*60:
		change.Close = &m
	case what == "usual":
		change.Usual = true
	default:
		change.Off, change.Closed = what == "off", what == "closed"
	}
	meant := change.Open != nil || change.Close != nil || change.Usual || change.Silences()
	switch {
	case !okFrom || !okTo || to < from || !meant:
		c.UnknownTap()
	case !manages(c):
	default:
		settle(c, change)
		c.RewriteAll("say-"+spoken(change), chat.Block{Text: changed(c, "changed.", change)})
	}
}

// tapDuty gives somebody's task to another.
func tapDuty(c *engine.Talk, arg string) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		c.UnknownTap()
		return
	}
	date, dated := compactDate(parts[1])
	id, err := strconv.ParseInt(parts[2], 10, 64)
	_, works := c.F.Shop.Person(shop.PersonID(id))
	change := shop.Change{From: date, To: date, Duty: shop.Duty{Opens: shop.PersonID(id)}}
	if parts[0] == "closes" {
		change.Duty = shop.Duty{Closes: shop.PersonID(id)}
	}
	switch {
	case !dated || err != nil || !works || parts[0] != "opens" && parts[0] != "closes":
		c.UnknownTap()
	case !manages(c):
	default:
		settle(c, change)
	}
}

// manages reports whether the speaker is a manager now, and says so if not.
func manages(c *engine.Talk) bool {
	if c.F.Person.Role.Manages() {
		return true
	}
	c.Notice = c.V.Say("notice.manager")
	return false
}
