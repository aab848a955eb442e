package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// snoozeMax is how often one person may put off a task of a day.
const snoozeMax = 3

// startCard and laterCard are buttons of reminders, which belong to no dialog.
func startCard() standing {
	return standing{name: doStart, rights: rights{access.Counting, anyPhone, onceSetUp}, tap: (*talk).tapStart}
}

func laterCard() standing {
	return standing{name: doLater, rights: rights{access.Counting, anyPhone, onceSetUp}, tap: (*talk).tapLater}
}

// reminderRef reads what a reminder's button is about: task.day.machine and
// perhaps more.
func (c *talk) reminderRef(arg string) (n reminders.Name, rest []string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) < 3 {
		return n, nil, false
	}
	date, dated := compactDate(parts[1])
	machine, err := strconv.ParseInt(parts[2], 10, 64)
	n = reminders.Name{Date: date, Task: reminders.Task(parts[0])}
	known := n.Task == reminders.Opening || n.Task == reminders.Closing || n.Task == reminders.Unclosed
	if !dated || !known || err != nil || c.f.Shop.Machine(shop.MachineID(machine)) == nil {
		return n, nil, false
	}
	if id := shop.MachineID(machine); id != c.State.Machine && c.State.Flow == "" {
		c.State.Machine = id // the next tap finds its books at hand
		c.Notice = c.v.Say("notice.turned", "machine", c.f.Shop.Machine(id).Name)
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
func (c *talk) tapStart(arg string) {
	n, _, ok := c.reminderRef(arg)
	switch {
	case !ok:
		c.unknownTap()
	case !c.needs(c.m, n):
		c.alreadyDone(n)
	default:
		c.carryOut(c.startOf(n))
	}
}

// startOf names the command that does a task.
func (c *talk) startOf(n reminders.Name) string {
	switch {
	case n.Task == reminders.Opening:
		return doOpen
	case !c.f.Shop.Nightly && n.Task == reminders.Closing:
		return doSettle
	case n.Task == reminders.Unclosed && c.unclosed(c.m, n.Date).Status != books.Open:
		return doFinish
	}
	return doClose
}

// carryOut carries out a command as if its word had been typed.
func (c *talk) carryOut(name string) {
	c.rest = ""
	c.obey(c.e.named(name))
}

func (c *talk) unknownTap() {
	if c.Notice == "" {
		c.Notice = c.v.Say("notice.unknown")
	}
}

// alreadyDone answers a tap about a task that is done already.
func (c *talk) alreadyDone(n reminders.Name) {
	c.Notice = c.v.Say("notice.done")
	c.rewrite(Reply{Key: dueKey(n), Body: []Block{text(c.doneWord(n), c.which(), c.doneBy(n))}})
}

// doneWord says that a task is done; of a closing also when only the count is in.
func (c *talk) doneWord(n reminders.Name) string {
	for _, p := range c.m.Periods {
		if n.Task == reminders.Closing && c.dayOf(p) == n.Date && p.Status == books.Waiting {
			return c.v.Say("due.done-counted")
		}
	}
	return c.v.Say("due.done-" + string(n.Task))
}

// doneBy tells who did a task and when, as far as the books at hand tell.
func (c *talk) doneBy(n reminders.Name) string {
	for _, p := range slices.Backward(c.m.Periods) {
		switch {
		case c.dayOf(p) > n.Date && n.Task != reminders.Opening:
		case n.Task == reminders.Opening:
			return c.v.Say("due.done-by", "who", c.name(p.By), "when", c.clock(p.Opened))
		case n.Task == reminders.Unclosed && p.Status == books.Closed:
			return c.v.Say("due.done-by", "who", c.name(p.EndedBy), "when", c.clock(p.Ended))
		case n.Task == reminders.Closing && p.Status != books.Open:
			return c.v.Say("due.done-by", "who", c.name(p.CountedBy), "when", c.clock(p.CountedAt))
		}
	}
	return ""
}

// tapLater puts a reminder off. What the list would be told until then is left
// out; a manager's or owner's turn comes when it comes.
func (c *talk) tapLater(arg string) {
	n, rest, ok := c.reminderRef(arg)
	if !ok || len(rest) != 1 || !slices.Contains([]string{"15", "30", "60"}, rest[0]) {
		c.unknownTap()
		return
	}
	if !c.needs(c.m, n) {
		c.alreadyDone(n)
		return
	}
	key := dueKey(n)
	if c.State.Snoozed[key] >= snoozeMax {
		c.Notice = c.v.Say("notice.often", "n", snoozeMax)
		return
	}
	minutes, _ := strconv.Atoi(rest[0])
	until := c.in.At.Add(time.Duration(minutes) * time.Minute)
	later := n
	later.Later = c.snooze(key)
	c.plan(later, until)
	c.plan(n, c.skip(n, until))
	ref := strings.TrimSuffix(arg, "."+rest[0])
	c.rewrite(Reply{Key: key,
		Body:    []Block{text(c.v.Say("due.later", "when", c.clock(until)), c.which())},
		Buttons: [][]Button{c.button("start-"+string(n.Task), "o:start:"+ref)}})
}

// skip gives the first rung of a task that a reminder put off does not replace.
func (c *talk) skip(n reminders.Name, until time.Time) time.Time {
	for _, r := range reminders.Rungs(c.f.Shop, n.Date, n.Task) {
		if r.At.After(c.in.At) && (r.To != shop.List || r.At.After(until)) {
			return r.At
		}
	}
	return time.Time{}
}

// snooze counts how often the speaker put a task off, and forgets older ones.
func (c *talk) snooze(key string) int {
	oldest := "due-" + string(c.today().Add(-2))
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
func (c *talk) tapClosed(arg string) {
	n, _, ok := c.reminderRef(arg)
	switch {
	case !ok:
		c.unknownTap()
	case !c.manages():
	default:
		c.settle(shop.Change{From: n.Date, To: n.Date, Closed: true})
	}
}

// tapUsual says that the shop trades on a public holiday.
func (c *talk) tapUsual(arg string) {
	date, ok := compactDate(arg)
	switch {
	case !ok:
		c.unknownTap()
	case !c.manages():
	default:
		c.settle(shop.Change{From: date, To: date, Usual: true})
		c.rewriteAll(dueKey(reminders.Name{Date: date.Add(-1), Task: reminders.Eve}),
			Block{Text: c.changed("changed.", shop.Change{From: date, To: date, Usual: true})})
	}
}

// tapSay makes a change that somebody else asked a manager for.
func (c *talk) tapSay(arg string) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		c.unknownTap()
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
		c.unknownTap()
	case !c.manages():
	default:
		c.settle(change)
		c.rewriteAll("say-"+spoken(change), Block{Text: c.changed("changed.", change)})
	}
}

// tapDuty gives somebody's task to another.
func (c *talk) tapDuty(arg string) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		c.unknownTap()
		return
	}
	date, dated := compactDate(parts[1])
	id, err := strconv.ParseInt(parts[2], 10, 64)
	_, works := c.f.Shop.Person(shop.PersonID(id))
	change := shop.Change{From: date, To: date, Duty: shop.Duty{Opens: shop.PersonID(id)}}
	if parts[0] == "closes" {
		change.Duty = shop.Duty{Closes: shop.PersonID(id)}
	}
	switch {
	case !dated || err != nil || !works || parts[0] != "opens" && parts[0] != "closes":
		c.unknownTap()
	case !c.manages():
	default:
		c.settle(change)
	}
}

// manages reports whether the speaker is a manager now, and says so if not.
func (c *talk) manages() bool {
	if c.f.Person.Role.Manages() {
		return true
	}
	c.Notice = c.v.Say("notice.manager")
	return false
}
