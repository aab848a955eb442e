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
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// A reader reads which days are different, and how; false: it does not say so.
type reader func(*engine.Talk, string) (shop.Change, bool)

// shiftCommands are the ways to say that some days are different.
func shiftCommands() (list []engine.Command) {
	for _, w := range []struct {
		name string
		help engine.Helping
		read reader
	}{
		{engine.DoClosed, engine.HelpMore, onDays(shop.Change{Closed: true})},
		{engine.DoClosingAt, engine.HelpMore, atTime(func(change *shop.Change, m *int) { change.Close = m })},
		{engine.DoOpeningAt, engine.HelpNever, atTime(func(change *shop.Change, m *int) { change.Open = m })},
		{engine.DoUsual, engine.HelpNever, onDays(shop.Change{Usual: true})},
		{engine.DoMute, engine.HelpMore, onDays(shop.Change{Mute: true})},
		{engine.DoIll, engine.HelpMore, readIll}, {engine.DoNobody, engine.HelpNever, readNobody},
		{engine.DoDuty, engine.HelpNever, readDuty}, {engine.DoAway, engine.HelpNever, readAway},
	} {
		list = append(list, engine.Command{Name: w.name, Does: engine.StartsDialog, Help: w.help,
			Takes: engine.AnyWords, Run: func(c *engine.Talk) { shift(c, w.name, w.read) }})
	}
	return list
}

// onDays reads the days of a change, of which nothing else is to be said.
func onDays(change shop.Change) reader {
	return func(c *engine.Talk, s string) (shop.Change, bool) {
		rest := ""
		change.From, change.To, rest = telling.Days(c.Teller, s)
		return change, rest == ""
	}
}

// atTime reads a time of day and the days on which it is another one.
func atTime(set func(*shop.Change, *int)) reader {
	return func(c *engine.Talk, s string) (change shop.Change, ok bool) {
		minutes, rest := telling.TimeOfDay(s)
		set(&change, &minutes)
		change, ok = onDays(change)(c, rest)
		if minutes >= 0 && !when.SaidHalf(s, rest) {
			minutes = c.F.Shop.Weekly(change.From).Likely(minutes) // 3 is three in the afternoon
		}
		return change, ok && minutes >= 0
	}
}

func readIll(c *engine.Talk, s string) (shop.Change, bool) {
	from, to, _ := telling.Days(c.Teller, s) // what else was said of it is nobody's business
	return shop.Change{From: from, To: to, Absent: c.F.Person.ID}, !telling.Unclear(c.Teller, s)
}

// readNobody takes "nobody comes, machine stays off" and a day, in any order.
func readNobody(c *engine.Talk, s string) (shop.Change, bool) {
	for _, filler := range c.V.List("words.nobody") {
		s = strings.ReplaceAll(s, filler, "")
	}
	s = strings.TrimLeft(s, " ,.;")
	from, to, _ := telling.Days(c.Teller, s)
	return shop.Change{From: from, To: to, Off: true}, !telling.Unclear(c.Teller, s)
}

// readAway takes "ben is ill until friday", "ben is on holiday 1 to 14 december".
func readAway(c *engine.Talk, s string) (shop.Change, bool) {
	p, rest, ok := awayIn(c, s)
	from, to, _ := telling.Days(c.Teller, rest)
	return shop.Change{From: from, To: to, Absent: p.ID}, ok && !telling.Unclear(c.Teller, rest)
}

// awayIn finds who a text says cannot come, and what follows.
func awayIn(c *engine.Talk, s string) (p shop.Person, rest string, ok bool) {
	p, rest, ok = personIn(c, s)
	best := ""
	for _, phrase := range c.V.List("words.cannot-come") {
		if strings.HasPrefix(rest+" ", phrase+" ") && len(phrase) > len(best) {
			best = phrase
		}
	}
	return p, strings.TrimSpace(strings.TrimPrefix(rest, best)), ok && best != ""
}

// readDuty takes "ben opens tomorrow".
func readDuty(c *engine.Talk, s string) (shop.Change, bool) {
	p, opens, rest, ok := dutyIn(c, s)
	change, only := onDays(shop.Change{Duty: dutyOf(p.ID, opens)})(c, rest)
	return change, ok && only
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

// dutyIn finds who a text says opens, or else closes, and what follows.
func dutyIn(c *engine.Talk, s string) (p shop.Person, opens bool, rest string, ok bool) {
	p, rest, ok = personIn(c, s)
	word, rest, _ := strings.Cut(rest, " ")
	opens = c.IsWord("opens", word)
	return p, opens, rest, ok && (opens || c.IsWord("closes", word))
}

// dutyOf gives somebody one of the two tasks of a day.
func dutyOf(id shop.PersonID, opens bool) shop.Duty {
	if opens {
		return shop.Duty{Opens: id}
	}
	return shop.Duty{Closes: id}
}

// shift reads a change of the plan and asks whether it is right. What only a
// manager may say is put to the managers when somebody else says it.
func shift(c *engine.Talk, name string, read reader) {
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
	c.Close(chat.Lines(c.V.Say("shift.dropped", "change", changed(c, "shift.", drafted(c).Change)), why))
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
		Again: engine.BegunAgain, Paper: engine.OffPaper, Loses: losesWaiting, Stopped: engine.NothingBooked,
		Rights:   engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: shiftCommands(),
		Cards: []engine.Standing{
			{Name: engine.DoClosed, Tap: settles(tappedClosed)}, {Name: engine.DoUsual, Tap: settles(tappedUsual)},
			{Name: engine.DoDuty, Tap: settles(tappedDuty)},
			{Name: engine.DoSay, Rights: engine.Rights{Role: access.Managing}, Tap: settles(tappedSay)},
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
	long := c.V.Say("shift.long", "n", c.V.Number(n), "last", c.DayYear(change.To))
	return &engine.Card{Body: append(readShift(c), chat.Lines(long)),
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
	return []chat.Block{chat.Lines(lines...)}
}

// mayChange reports whether the speaker may say so without a manager.
func mayChange(c *engine.Talk, change shop.Change) bool {
	return c.F.Person.Role.Manages() || change.Absent != 0 || change.Mute ||
		change.Duty != shop.Duty{}
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
	c.TellAbout(reminders.Changed, chat.Reply{
		Body: []chat.Block{
			chat.Lines(c.V.Say("shift.wants", "who", c.F.Person.Name), changed(c, "shift.", change))},
		Buttons: [][]chat.Button{c.Button("say", "o:say:"+spoken(change))},
		Key:     sayKey(change),
	})
}

// settle lays a change down and tells those it matters to; reminders of today
// that do not hold any more are made to say so.
func settle(c *engine.Talk, change shop.Change) {
	change.By, change.At = c.F.Person.ID, c.In.At.UTC()
	next := c.F.Shop.Settings
	next.Plan = next.Plan.With(change, c.Today())
	c.Settings = &next
	if change.Silences() || change.Mute {
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
		for _, task := range []reminders.Task{reminders.Opening, reminders.Filling, reminders.Closing} {
			c.RewriteAll(dueKey(c, reminders.Name{Date: date, Task: task}),
				chat.Block{Text: changed(c, "changed.", change)})
		}
	}
}

// tellChange tells managers, and whoever has something to do now.
func tellChange(c *engine.Talk, change shop.Change) {
	told := chat.Block{Text: changed(c, "changed.", change)}
	if change.Absent != 0 {
		c.TellAbout(reminders.Changed, chat.Reply{Body: []chat.Block{told}, Buttons: standIns(c, change)})
		return
	}
	c.TellAbout(reminders.Changed, chat.Reply{Body: []chat.Block{told}})
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
