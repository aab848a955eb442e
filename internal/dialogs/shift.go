package dialogs

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// shiftCommands are the ways to say that some days are different.
func shiftCommands() []command {
	shift := func(name string, help helping, read func(*talk, string) (shop.Change, bool)) command {
		run := func(c *talk) { c.shift(name, read) }
		return command{name: name, does: startsDialog, help: help, takes: anyWords, run: run}
	}
	return []command{
		shift(doClosed, helpMore, readClosed),
		shift(doClosingAt, helpMore, readClosingAt),
		shift(doOpeningAt, helpNever, readOpeningAt),
		shift(doUsual, helpNever, readUsual),
		shift(doIll, helpMore, readIll),
		shift(doNobody, helpNever, readNobody),
		shift(doDuty, helpNever, readDuty),
	}
}

func readClosed(c *talk, s string) (shop.Change, bool) {
	from, to, rest := c.days(s)
	return shop.Change{From: from, To: to, Closed: true}, rest == ""
}

func readClosingAt(c *talk, s string) (shop.Change, bool) {
	minutes, rest := timeOfDay(s)
	from, to, rest := c.days(rest)
	return shop.Change{From: from, To: to, Close: &minutes}, minutes >= 0 && rest == ""
}

func readOpeningAt(c *talk, s string) (shop.Change, bool) {
	minutes, rest := timeOfDay(s)
	from, to, rest := c.days(rest)
	return shop.Change{From: from, To: to, Open: &minutes}, minutes >= 0 && rest == ""
}

func readUsual(c *talk, s string) (shop.Change, bool) {
	from, to, rest := c.days(s)
	return shop.Change{From: from, To: to, Usual: true}, rest == ""
}

func readIll(c *talk, s string) (shop.Change, bool) {
	from, to, _ := c.days(s) // what else was said of it is nobody's business
	return shop.Change{From: from, To: to, Absent: c.f.Person.ID}, !c.unclear(s)
}

// readNobody takes "nobody comes, machine stays off" and a day, in any order.
func readNobody(c *talk, s string) (shop.Change, bool) {
	for _, filler := range c.v.List("words.nobody") {
		s = strings.ReplaceAll(s, filler, "")
	}
	s = strings.TrimLeft(s, " ,.;")
	from, to, _ := c.days(s)
	return shop.Change{From: from, To: to, Off: true}, !c.unclear(s)
}

// readDuty takes "ben opens tomorrow".
func readDuty(c *talk, s string) (shop.Change, bool) {
	p, rest, ok := c.personIn(s)
	if !ok {
		return shop.Change{}, false
	}
	word, rest, _ := strings.Cut(rest, " ")
	from, to, rest := c.days(rest)
	change := shop.Change{From: from, To: to}
	switch {
	case c.isWord("opens", word):
		change.Duty.Opens = p.ID
	case c.isWord("closes", word):
		change.Duty.Closes = p.ID
	default:
		return change, false
	}
	return change, rest == ""
}

// personIn finds the person a text begins with, and what follows. "I" is the
// speaker; the longest name wins.
func (c *talk) personIn(s string) (best shop.Person, rest string, ok bool) {
	low := fold(s)
	if after, is := strings.CutPrefix(low, "i "); is {
		return c.f.Person, after, true
	}
	for _, p := range c.f.Shop.People {
		after, is := strings.CutPrefix(low, fold(p.Name)+" ")
		if is && len(p.Name) > len(best.Name) {
			best, rest, ok = p, strings.TrimSpace(after), true
		}
	}
	return best, rest, ok
}

// saysDuty reports whether a text says who opens or closes.
func (c *talk) saysDuty(s string) bool {
	_, rest, ok := c.personIn(s)
	word, _, _ := strings.Cut(rest, " ")
	return ok && (c.isWord("opens", word) || c.isWord("closes", word))
}

// shift reads a change of the plan and asks whether it is right. What only a
// manager may say is put to the managers when somebody else says it.
func (c *talk) shift(name string, read func(*talk, string) (shop.Change, bool)) {
	change, ok := read(c, c.rest)
	switch {
	case !ok:
		c.noShift(c.v.Say("shift.how-" + name))
		return
	case change.To < c.today():
		c.noShift(c.v.Say("shift.past"))
		return
	}
	if c.shifting() {
		c.first(c.v.Say("shift.instead", "change", c.changed("shift.", c.drafted())))
	}
	c.enter(doShift)
	body, _ := json.Marshal(change) // dates and numbers
	c.choose("change", string(body))
	c.goTo("ask")
	c.show()
}

// noShift says why a change could not be taken. One that was asked about before
// ends with it, so that its card is not confirmed in place of this one.
func (c *talk) noShift(why string) {
	if !c.shifting() {
		c.say(why)
		return
	}
	c.close(text(c.v.Say("shift.dropped", "change", c.changed("shift.", c.drafted())), why))
}

func shiftFlow() *flow {
	return &flow{
		name: doShift, title: "shift", version: 1, start: func(*talk) {},
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: begunAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		commands: shiftCommands(),
		cards: []standing{
			{name: doClosed, tap: (*talk).tapClosed}, {name: doUsual, tap: (*talk).tapUsual},
			{name: doDuty, tap: (*talk).tapDuty},
			{name: doSay, rights: rights{role: access.Managing}, tap: (*talk).tapSay},
		},
		screens: map[string]screen{"ask": booking{first: askLong, read: readShift, book: bookShift, plan: true, what: "what.shift",
			taps: map[string]func(*talk){"long": func(c *talk) { c.choose("long", "yes") }}}.screen()},
	}
}

// shifting reports whether a change waits for a yes.
func (c *talk) shifting() bool { return c.chosen("change") != "" }

// drafted is the change that waits for a yes.
func (c *talk) drafted() (change shop.Change) {
	_ = json.Unmarshal([]byte(c.chosen("change")), &change) // this package wrote it
	return change
}

// longChange is how many days a change may last without being asked back: a
// month typed wrongly or days the wrong way round reach into the next year.
// Common practice, no source.
const longChange = 62

// daysIn counts the days from one to another, both of them.
func daysIn(from, to shop.Date) int64 { return int64(to.Time().Sub(from.Time()).Hours()/24) + 1 }

// askLong asks a change back that lasts very long.
func askLong(c *talk) *card {
	change := c.drafted()
	n := daysIn(change.From, change.To)
	if n <= longChange || c.chosen("long") != "" {
		return nil
	}
	long := c.v.Say("shift.long", "n", c.v.Number(n), "last", c.dayYear(change.To))
	return &card{body: append(readShift(c), text(long)),
		buttons: [][]Button{c.button("shift-long", "long", "n", c.v.Number(n))}}
}

func readShift(c *talk) []Block {
	change := c.drafted()
	lines := []string{c.changed("shift.", change)}
	if change.Silences() && c.m.Current() != nil && change.From <= c.today() {
		lines = append(lines, c.v.Say("shift.still-open"))
	}
	if !c.mayChange(change) {
		lines = append(lines, c.v.Say("shift.asks"))
	}
	return []Block{text(lines...)}
}

// mayChange reports whether the speaker may say so without a manager.
func (c *talk) mayChange(change shop.Change) bool {
	return c.f.Person.Role.Manages() || change.Absent == c.f.Person.ID || change.Duty != shop.Duty{}
}

func bookShift(c *talk) {
	change := c.drafted()
	if !c.mayChange(change) {
		c.askManagers(change)
		c.close(Block{Text: c.v.Say("shift.asked")})
		return
	}
	c.close(Block{Text: c.v.Say("shift.noted", "when", c.clock(c.in.At)) + "\n" + c.changed("shift.", change)})
	c.settle(change)
}

// askManagers puts a change that the speaker may not make to those who may.
func (c *talk) askManagers(change shop.Change) {
	c.tellManagers(Reply{
		Body:    []Block{text(c.v.Say("shift.wants", "who", c.f.Person.Name), c.changed("shift.", change))},
		Buttons: [][]Button{c.button("say", "o:say:"+spoken(change))},
		Key:     "say-" + spoken(change),
	})
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

// changed words a change, as it is asked or as it is told.
func (c *talk) changed(how string, change shop.Change) string {
	fill := []any{"days", c.between(change.From, change.To), "who", c.f.Person.Name}
	switch {
	case change.Absent != 0:
		return c.v.Say(how+"ill", append(fill, "name", c.name(change.Absent))...)
	case change.Duty.Opens != 0:
		return c.v.Say(how+"opens", append(fill, "name", c.name(change.Duty.Opens))...)
	case change.Duty.Closes != 0:
		return c.v.Say(how+"closes", append(fill, "name", c.name(change.Duty.Closes))...)
	case change.Open != nil:
		return c.v.Say(how+"opening-at", append(fill, "time", clockText(*change.Open))...)
	case change.Close != nil:
		return c.v.Say(how+"closing-at", append(fill, "time", clockText(*change.Close))...)
	case change.Usual:
		return c.v.Say(how+"usual", fill...)
	case change.Off:
		return c.v.Say(how+"nobody", fill...)
	}
	return c.v.Say(how+"closed", fill...)
}

// settle lays a change down and tells those it matters to; reminders of today
// that do not hold any more are made to say so.
func (c *talk) settle(change shop.Change) {
	change.By, change.At = c.f.Person.ID, c.in.At.UTC()
	next := c.f.Shop.Settings
	next.Plan = next.Plan.With(change, c.today())
	c.Settings = &next
	if change.Silences() {
		c.retireDue(change)
	}
	c.tellChange(change)
}

// retireDue ends the reminders sent about days on which nothing is due now.
func (c *talk) retireDue(change shop.Change) {
	for _, date := range []shop.Date{c.today().Add(-1), c.today()} {
		if date < change.From || date > change.To {
			continue
		}
		for _, task := range []reminders.Task{reminders.Opening, reminders.Closing} {
			c.rewriteAll(dueKey(reminders.Name{Date: date, Task: task}), Block{Text: c.changed("changed.", change)})
		}
	}
}

// tellChange tells managers, and whoever has something to do now.
func (c *talk) tellChange(change shop.Change) {
	told := Block{Text: c.changed("changed.", change)}
	if change.Absent != 0 {
		c.tellManagers(Reply{Body: []Block{told}, Buttons: c.standIns(change)})
		return
	}
	c.managers(told)
	for _, id := range []shop.PersonID{change.Duty.Opens, change.Duty.Closes} {
		p, works := c.f.Shop.Person(id)
		if works && id != c.f.Person.ID && !p.Acts().Manages() {
			c.tellPerson(id, Reply{Body: []Block{told}})
		}
	}
}

// standInsMax bounds the people offered to stand in.
const standInsMax = 4

// standIns offers managers the people who could open or close instead.
func (c *talk) standIns(change shop.Change) (rows [][]Button) {
	day := compact(change.From)
	for _, p := range c.f.Shop.People {
		if p.ID == change.Absent || c.f.Shop.Plan.Absent(p.ID, change.From) || len(rows) >= standInsMax {
			continue
		}
		id := "." + day + "." + strconv.FormatInt(int64(p.ID), 10)
		rows = append(rows, slices.Concat(c.button("opens", "o:duty:opens"+id, "name", p.Name),
			c.button("closes", "o:duty:closes"+id, "name", p.Name)))
	}
	return rows
}
