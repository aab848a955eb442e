package reminding

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// shiftCommands are the ways to say that some days are different.
func shiftCommands() []engine.Command {
	shift := func(name string, help engine.Helping, read func(*engine.Talk, string) (shop.Change,
		bool)) engine.Command {
		run := func(c *engine.Talk) { shift(c, name, read) }
		return engine.Command{Name: name, Does: engine.StartsDialog, Help: help, Takes: engine.AnyWords, Run: run}
	}
	return []engine.Command{
		shift(engine.DoClosed, engine.HelpMore, readClosed),
		shift(engine.DoClosingAt, engine.HelpMore, readClosingAt),
		shift(engine.DoOpeningAt, engine.HelpNever, readOpeningAt),
		shift(engine.DoUsual, engine.HelpNever, readUsual),
		shift(engine.DoIll, engine.HelpMore, readIll),
		shift(engine.DoNobody, engine.HelpNever, readNobody),
		shift(engine.DoDuty, engine.HelpNever, readDuty),
	}
}

func readClosed(c *engine.Talk, s string) (shop.Change, bool) {
	from, to, rest := ask.Days(c, s)
	return shop.Change{From: from, To: to, Closed: true}, rest == ""
}

func readClosingAt(c *engine.Talk, s string) (shop.Change, bool) {
	minutes, rest := ask.TimeOfDay(s)
	from, to, rest := ask.Days(c, rest)
	return shop.Change{From: from, To: to, Close: &minutes}, minutes >= 0 && rest == ""
}

func readOpeningAt(c *engine.Talk, s string) (shop.Change, bool) {
	minutes, rest := ask.TimeOfDay(s)
	from, to, rest := ask.Days(c, rest)
	return shop.Change{From: from, To: to, Open: &minutes}, minutes >= 0 && rest == ""
}

func readUsual(c *engine.Talk, s string) (shop.Change, bool) {
	from, to, rest := ask.Days(c, s)
	return shop.Change{From: from, To: to, Usual: true}, rest == ""
}

func readIll(c *engine.Talk, s string) (shop.Change, bool) {
	from, to, _ := ask.Days(c, s) // what else was said of it is nobody's business
	return shop.Change{From: from, To: to, Absent: c.F.Person.ID}, !ask.Unclear(c, s)
}

// readNobody takes "nobody comes, machine stays off" and a day, in any order.
func readNobody(c *engine.Talk, s string) (shop.Change, bool) {
	for _, filler := range c.V.List("words.nobody") {
		s = strings.ReplaceAll(s, filler, "")
	}
	s = strings.TrimLeft(s, " ,.;")
	from, to, _ := ask.Days(c, s)
	return shop.Change{From: from, To: to, Off: true}, !ask.Unclear(c, s)
}

// readDuty takes "ben opens tomorrow".
func readDuty(c *engine.Talk, s string) (shop.Change, bool) {
	p, rest, ok := personIn(c, s)
	if !ok {
		return shop.Change{}, false
	}
	word, rest, _ := strings.Cut(rest, " ")
	from, to, rest := ask.Days(c, rest)
	change := shop.Change{From: from, To: to}
	switch {
	case ask.IsWord(c, "opens", word):
		change.Duty.Opens = p.ID
	case ask.IsWord(c, "closes", word):
		change.Duty.Closes = p.ID
	default:
		return change, false
	}
	return change, rest == ""
}

// personIn finds the person a text begins with, and what follows. "I" is the
// speaker; the longest name wins.
func personIn(c *engine.Talk, s string) (best shop.Person, rest string, ok bool) {
	low := engine.Fold(s)
	if after, is := strings.CutPrefix(low, "i "); is {
		return c.F.Person, after, true
	}
	for _, p := range c.F.Shop.People {
		after, is := strings.CutPrefix(low, engine.Fold(p.Name)+" ")
		if is && len(p.Name) > len(best.Name) {
			best, rest, ok = p, strings.TrimSpace(after), true
		}
	}
	return best, rest, ok
}

// saysDuty reports whether a text says who opens or closes.
func saysDuty(c *engine.Talk, s string) bool {
	_, rest, ok := personIn(c, s)
	word, _, _ := strings.Cut(rest, " ")
	return ok && (ask.IsWord(c, "opens", word) || ask.IsWord(c, "closes", word))
}

// shift reads a change of the plan and asks whether it is right. What only a
// manager may say is put to the managers when somebody else says it.
func shift(c *engine.Talk, name string, read func(*engine.Talk, string) (shop.Change, bool)) {
	change, ok := read(c, c.Rest)
	switch {
	case !ok:
		noShift(c, c.V.Say("shift.how-"+name))
		return
	case change.To < c.Today():
		noShift(c, c.V.Say("shift.past"))
		return
	}
	if shifting(c) {
		c.First(c.V.Say("shift.instead", "change", changed(c, "shift.", drafted(c).Change)))
	}
	c.Enter(engine.DoShift)
	drafted(c).Change = change
	c.GoTo("ask")
	c.Show()
}

// noShift says why a change could not be taken. One that was asked about before
// ends with it, so that its card is not confirmed in place of this one.
func noShift(c *engine.Talk, why string) {
	if !shifting(c) {
		c.Say(why)
		return
	}
	c.Close(engine.Text(c.V.Say("shift.dropped", "change", changed(c, "shift.", drafted(c).Change)), why))
}

// shiftDraft is the change of the plan that waits for a yes.
type shiftDraft struct {
	Change shop.Change `json:"change,omitzero"`
	Long   bool        `json:"long,omitempty"` // it is to last so long
}

func drafted(c *engine.Talk) *shiftDraft { return engine.Drafted[shiftDraft](c) }

// ShiftFlow says that some days are different.
func ShiftFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoShift, Title: "shift", Version: 1, Draft: func() any { return &shiftDraft{} },
		Start: func(*engine.Talk) {},
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.BegunAgain,
		Paper: engine.OffPaper, Loses: losesWaiting, Stopped: engine.NothingBooked,
		Rights:   engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: shiftCommands(),
		Cards: []engine.Standing{
			{Name: engine.DoClosed, Tap: tapClosed}, {Name: engine.DoUsual, Tap: tapUsual},
			{Name: engine.DoDuty, Tap: tapDuty},
			{Name: engine.DoSay, Rights: engine.Rights{Role: access.Managing}, Tap: tapSay},
		},
		Screens: map[string]engine.Screen{
			"ask": ask.Booking{First: askLong, Read: readShift, Book: bookShift, Plan: true, What: "what.shift",
				Taps: map[string]func(*engine.Talk){"long": func(c *engine.Talk) { drafted(c).Long = true }}}.Screen(),
		},
	}
}

// shifting reports whether a change waits for a yes.
func shifting(c *engine.Talk) bool { return engine.Keeps[shiftDraft](c) }

// longChange is how many days a change may last without being asked back: a
// month typed wrongly or days the wrong way round reach into the next year.
// Common practice, no source.
const longChange = 62

// daysIn counts the days from one to another, both of them.
func daysIn(from, to shop.Date) int64 { return int64(to.Time().Sub(from.Time()).Hours()/24) + 1 }

// askLong asks a change back that lasts very long.
func askLong(c *engine.Talk) *engine.Card {
	change := drafted(c).Change
	n := daysIn(change.From, change.To)
	if n <= longChange || drafted(c).Long {
		return nil
	}
	long := c.V.Say("shift.long", "n", c.V.Number(n), "last", ask.DayYear(c, change.To))
	return &engine.Card{Body: append(readShift(c), engine.Text(long)),
		Buttons: [][]chat.Button{c.Button("shift-long", "long", "n", c.V.Number(n))}}
}

func readShift(c *engine.Talk) []chat.Block {
	change := drafted(c).Change
	lines := []string{changed(c, "shift.", change)}
	if change.Silences() && c.M.Current() != nil && change.From <= c.Today() {
		lines = append(lines, c.V.Say("shift.still-open"))
	}
	if !mayChange(c, change) {
		lines = append(lines, c.V.Say("shift.asks"))
	}
	return []chat.Block{engine.Text(lines...)}
}

// mayChange reports whether the speaker may say so without a manager.
func mayChange(c *engine.Talk, change shop.Change) bool {
	return c.F.Person.Role.Manages() || change.Absent == c.F.Person.ID || change.Duty != shop.Duty{}
}

func bookShift(c *engine.Talk) {
	change := drafted(c).Change
	if !mayChange(c, change) {
		askManagers(c, change)
		c.Close(chat.Block{Text: c.V.Say("shift.asked")})
		return
	}
	c.Close(
		chat.Block{Text: c.V.Say("shift.noted", "when", c.Clock(c.In.At)) + "\n" + changed(c, "shift.", change)})
	settle(c, change)
}

// askManagers puts a change that the speaker may not make to those who may.
func askManagers(c *engine.Talk, change shop.Change) {
	c.TellManagers(chat.Reply{
		Body: []chat.Block{
			engine.Text(c.V.Say("shift.wants", "who", c.F.Person.Name), changed(c, "shift.", change))},
		Buttons: [][]chat.Button{c.Button("say", "o:say:"+spoken(change))},
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
func changed(c *engine.Talk, how string, change shop.Change) string {
	fill := []any{"days", ask.Between(c, change.From, change.To), "who", c.F.Person.Name}
	switch {
	case change.Absent != 0:
		return c.V.Say(how+"ill", append(fill, "name", c.Name(change.Absent))...)
	case change.Duty.Opens != 0:
		return c.V.Say(how+"opens", append(fill, "name", c.Name(change.Duty.Opens))...)
	case change.Duty.Closes != 0:
		return c.V.Say(how+"closes", append(fill, "name", c.Name(change.Duty.Closes))...)
	case change.Open != nil:
		return c.V.Say(how+"opening-at", append(fill, "time", ask.ClockText(*change.Open))...)
	case change.Close != nil:
		return c.V.Say(how+"closing-at", append(fill, "time", ask.ClockText(*change.Close))...)
	case change.Usual:
		return c.V.Say(how+"usual", fill...)
	case change.Off:
		return c.V.Say(how+"nobody", fill...)
	}
	return c.V.Say(how+"closed", fill...)
}

// settle lays a change down and tells those it matters to; reminders of today
// that do not hold any more are made to say so.
func settle(c *engine.Talk, change shop.Change) {
	change.By, change.At = c.F.Person.ID, c.In.At.UTC()
	next := c.F.Shop.Settings
	next.Plan = next.Plan.With(change, c.Today())
	c.Settings = &next
	if change.Silences() {
		retireDue(c, change)
	}
	tellChange(c, change)
}

// retireDue ends the reminders sent about days on which nothing is due now.
func retireDue(c *engine.Talk, change shop.Change) {
	for _, date := range []shop.Date{c.Today().Add(-1), c.Today()} {
		if date < change.From || date > change.To {
			continue
		}
		for _, task := range []reminders.Task{reminders.Opening, reminders.Closing} {
			c.RewriteAll(dueKey(reminders.Name{Date: date, Task: task}),
				chat.Block{Text: changed(c, "changed.", change)})
		}
	}
}

// tellChange tells managers, and whoever has something to do now.
func tellChange(c *engine.Talk, change shop.Change) {
	told := chat.Block{Text: changed(c, "changed.", change)}
	if change.Absent != 0 {
		c.TellManagers(chat.Reply{Body: []chat.Block{told}, Buttons: standIns(c, change)})
		return
	}
	c.Managers(told)
	for _, id := range []shop.PersonID{change.Duty.Opens, change.Duty.Closes} {
		p, works := c.F.Shop.Person(id)
		if works && id != c.F.Person.ID && !p.Acts().Manages() {
			c.TellPerson(id, chat.Reply{Body: []chat.Block{told}})
		}
	}
}

// standInsMax bounds the people offered to stand in.
const standInsMax = 4

// standIns offers managers the people who could open or close instead.
func standIns(c *engine.Talk, change shop.Change) (rows [][]chat.Button) {
	day := compact(change.From)
	for _, p := range c.F.Shop.People {
		if p.ID == change.Absent || c.F.Shop.Plan.Absent(p.ID, change.From) || len(rows) >= standInsMax {
			continue
		}
		id := "." + day + "." + strconv.FormatInt(int64(p.ID), 10)
		rows = append(rows, slices.Concat(c.Button("opens", "o:duty:opens"+id, "name", p.Name),
			c.Button("closes", "o:duty:closes"+id, "name", p.Name)))
	}
	return rows
}
