package reminding

import (
	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// shiftCommands are the ways to say that some days are different.
func shiftCommands() (list []engine.Command) {
	add := func(help engine.Helping, names ...string) {
		for _, name := range names {
			list = append(list, engine.Command{Name: name, Does: engine.StartsDialog, Help: help,
				Takes: engine.AnyWords, Run: func(c *engine.Talk) { shift(c, name) }})
		}
	}
	add(engine.HelpMore, engine.DoClosed, engine.DoClosingAt, engine.DoMute, engine.DoIll)
	add(engine.HelpNever, engine.DoOpeningAt, engine.DoUsual, engine.DoNobody, engine.DoDuty, engine.DoAway)
	return list
}

// shift reads changes of the plan and asks whether they are right. What only a
// manager may say is put to the managers when somebody else says it.
func shift(c *engine.Talk, name string) {
	changes, ok := rota.Read(c.Teller, name, c.Rest, texts.Fold(c.In.Text))
	switch {
	case !ok && c.F.Person.Role.Manages() && rota.SaysHours(c.Teller, texts.Fold(c.In.Text)):
		c.Rest = c.In.Text
		c.Begin(engine.DoHours)
		return
	case !ok:
		noShift(c, c.V.Say(rota.How(c.Teller, name, texts.Fold(c.In.Text)), "who", rota.Another(c.Teller)))
		return
	case changes[0].To < c.Today():
		noShift(c, c.V.Say("shift.past"))
		return
	}
	if shifting(c) {
		c.First(c.V.Say("shift.instead", "change", rota.Words(c.Teller, "shift.", drafted(c).all())))
	}
	c.Enter(engine.DoShift)
	*drafted(c) = shiftDraft{Change: changes[0], More: changes[1:]}
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
	dropped := rota.Words(c.Teller, "shift.", drafted(c).all())
	c.Close(chat.Lines(c.V.Say("shift.dropped", "change", dropped), why))
}

// shiftDraft is the change of the plan that waits for a yes, and those beside it.
type shiftDraft struct {
	Change shop.Change   `json:"change,omitzero"`
	More   []shop.Change `json:"more,omitempty"`
	Long   bool          `json:"long,omitempty"` // it is to last so long
}

func (d *shiftDraft) all() []shop.Change { return append([]shop.Change{d.Change}, d.More...) }

func drafted(c *engine.Talk) *shiftDraft { return engine.Drafted[shiftDraft](c) }

// ShiftFlow says that some days are different.
func ShiftFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoShift, Title: "shift", Version: 1, Draft: func() any { return &shiftDraft{} },
		Start: func(*engine.Talk) {}, Passes: true,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.BegunAgain, Paper: engine.OffPaper, Loses: losesWaiting, Stopped: engine.NothingBooked,
		Rights:   engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: shiftCommands(),
		Cards: []engine.Standing{
			{Name: engine.DoClosed, Tap: settles(tappedClosed)},
			{Name: engine.DoUsual, Tap: settles(spoken(rota.TappedUsual))},
			{Name: engine.DoDuty, Tap: settles(spoken(rota.TappedDuty))},
			{Name: engine.DoSay, Rights: engine.Rights{Role: access.Managing}, Tap: settles(spoken(rota.Tapped))},
		},
		Screens: map[string]engine.Screen{
			"ask": ask.Booking{First: askLong, Read: readShift, Book: bookShift, Plan: true, What: "what.shift",
				Taps: map[string]func(*engine.Talk){"long": func(c *engine.Talk) { drafted(c).Long = true }}}.Screen(),
		},
	}
}

// shifting reports whether a change waits for a yes.
func shifting(c *engine.Talk) bool { return engine.Keeps[shiftDraft](c) }

// askLong asks a change back that lasts very long.
func askLong(c *engine.Talk) *engine.Card {
	change := drafted(c).Change
	n, asks := rota.IsLong(change)
	if !asks || drafted(c).Long {
		return nil
	}
	long := c.V.Say("shift.long", "n", c.V.Number(n), "last", c.DayYear(change.To))
	return &engine.Card{Body: append(readShift(c), chat.Lines(long)),
		Buttons: [][]chat.Button{c.Button("shift-long", "long", "n", c.V.Number(n))}}
}

func readShift(c *engine.Talk) []chat.Block {
	c.Shopwide = true
	return []chat.Block{chat.Lines(rota.Asked(c.Teller, drafted(c).all())...)}
}

func bookShift(c *engine.Talk) {
	all := drafted(c).all()
	c.Shopwide = true
	if !rota.May(c.Teller, all[0]) {
		for _, change := range all {
			askManagers(c, change)
		}
		c.Close(chat.Block{Text: c.V.Say("shift.asked")})
		return
	}
	c.Close(chat.Lines(c.V.Say("shift.noted", "when", c.Clock(c.In.At)), rota.Words(c.Teller, "shift.", all)))
	settle(c, all...)
}

// askManagers puts a change that the speaker may not make to those who may.
func askManagers(c *engine.Talk, change shop.Change) {
	asks := chat.Reply{
		Body: []chat.Block{
			chat.Lines(c.V.Say("shift.wants", "who", c.F.Person.Name), rota.Word(c.Teller, "shift.", change))},
		Buttons: [][]chat.Button{c.Button("say", "o:say:"+rota.Button(change))},
		Key:     rota.Key(change),
	}
	if list := rota.Deciders(c.Teller, change); list != nil {
		c.TellPeople(list, asks)
		return
	}
	c.TellAbout(reminders.Changed, asks)
}

// settle lays changes down and tells those they matter to; reminders of today
// that do not hold any more are made to say so.
func settle(c *engine.Talk, changes ...shop.Change) {
	c.Shopwide = true
	next := c.F.Shop.Settings
	for _, change := range changes {
		change.By, change.At = c.F.Person.ID, c.In.At.UTC()
		next.Plan = next.Plan.With(change, c.Today())
		if change.Silences() || change.Mute {
			retireDue(c, change)
		}
		tellChange(c, change)
	}
	c.Settings = &next
}

// retireDue ends the reminders sent about days on which nothing is due now.
func retireDue(c *engine.Talk, change shop.Change) {
	for _, date := range []shop.Date{c.Today().Add(-1), c.Today()} {
		if date < change.From || date > change.To {
			continue
		}
		for _, task := range []reminders.Task{reminders.Opening, reminders.Filling, reminders.Closing} {
			c.RewriteAll(rota.DueKey(c.Teller, reminders.Name{Date: date, Task: task}),
				chat.Block{Text: rota.Word(c.Teller, "changed.", change)})
		}
	}
}

// tellChange tells managers, and whoever has something to do now.
func tellChange(c *engine.Talk, change shop.Change) {
	told := chat.Block{Text: rota.Word(c.Teller, "changed.", change)}
	if change.Absent != 0 {
		c.TellAbout(reminders.Changed,
			chat.Reply{Body: []chat.Block{told}, Buttons: rota.StandIns(c.Teller, change)})
		return
	}
	c.TellAbout(reminders.Changed, chat.Reply{Body: []chat.Block{told}})
	for _, id := range []shop.PersonID{change.Duty.Opens, change.Duty.Closes} {
		if p, works := c.F.Shop.Person(id); works && id != c.F.Person.ID && !p.Acts().Manages() {
			c.TellPerson(id, chat.Reply{Body: []chat.Block{told}})
		}
	}
}
