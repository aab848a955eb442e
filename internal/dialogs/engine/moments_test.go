package engine_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// twice is two rooms that want the same moments, of which the second must not be
// asked where the first takes one; heard is who was asked.
func twice(heard *[]string, takes bool) (list []engine.Declaration) {
	for _, room := range []string{"a", "b"} {
		hear := func(what string) bool { *heard = append(*heard, room+" "+what); return takes }
		list = append(list, engine.Moments{
			Alarm:     func(c *engine.Talk) bool { return hear("alarm") && strings.Contains(c.In.Text, "fire") },
			Beside:    func(*engine.Talk, *engine.Flow) bool { return hear("beside") },
			Stray:     func(*engine.Talk, *engine.Flow) bool { return hear("stray") },
			Pictured:  func(*engine.Talk) bool { return hear("photo") },
			Cancelled: func(*engine.Talk) bool { return hear("cancel") },
			Redrawn:   func(*engine.Talk) { hear("redrawn") },
			Due:       func(*engine.Talk) { hear("due") },
			Heard:     func(*engine.Talk) { hear("heard") },
			After:     func(*engine.Talk) { hear("after") },
		})
	}
	return list
}

// Rooms are asked in turn until one takes a moment; what is for all is told to
// all. That somebody is there is told of what a person does, and what comes after a
// step only where it recorded something.
func TestMomentsInTurn(t *testing.T) {
	for _, x := range []struct {
		takes bool
		in    chat.Input
		want  string
	}{
		{true, chat.Input{Kind: chat.Text, Text: "hm"}, "a beside,a heard,b heard"},
		{false, chat.Input{Kind: chat.Text, Text: "hm"}, "a beside,b beside,a stray,b stray,a heard,b heard"},
		{true, chat.Input{Kind: chat.Text, Text: "there is fire"}, "a alarm"},
		{false, chat.Input{Kind: chat.Text, Text: "there is fire"},
			"a alarm,b alarm,a beside,b beside,a stray,b stray,a heard,b heard"},
		{false, chat.Input{Kind: chat.Text, Text: "20x5 10"}, "a beside,b beside,a stray,b stray,a heard,b heard"},
		{true, chat.Input{Kind: chat.Picture, Text: "fire"}, "a alarm"},
		{true, chat.Input{Kind: chat.Picture}, "a photo,a heard,b heard"},
		{true, chat.Input{Kind: chat.Secret, Text: "fire"}, "a alarm"},
		{true, chat.Input{Kind: chat.Edited, Text: "fire"}, "a heard,b heard"},
		{true, chat.Input{Kind: chat.Press, Tap: "fire"}, "a heard,b heard"},
		{true, chat.Input{Kind: chat.Redraw}, "a redrawn,b redrawn"},
		{true, chat.Input{Kind: chat.Remind, Text: "fire"}, "a due,b due"},
	} {
		var heard []string
		f := floor.New(t, floor.Of(twice(&heard, x.takes)...))
		f.Does("staff1", x.in)
		if got := strings.Join(heard, ","); got != x.want {
			t.Errorf("%+v, taken %t: %s, want %s", x.in, x.takes, got, x.want)
		}
	}
}

// Cancel with no dialog open is for what runs beside.
func TestCancelBeside(t *testing.T) {
	for _, takes := range []bool{true, false} {
		var heard []string
		m := engine.Moments{Cancelled: func(*engine.Talk) bool { heard = append(heard, "x"); return takes }}
		f := floor.New(t, floor.Of(m, twoScreens()))
		if said := f.Says("staff1", "cancel"); len(heard) != 1 || strings.Contains(said,
			"Nothing is open") == takes {
			t.Errorf("taken %t: asked %d times, said\n%s", takes, len(heard), said)
		}
		f.Says("staff1", "move")
		if said := f.Says("staff1", "cancel"); len(heard) != 1 || !strings.Contains(said, "Stopped") {
			t.Errorf("with a dialog open, asked %d times:\n%s", len(heard), said)
		}
	}
}

// Rooms may say that words mean another command or none, or take them.
func TestWeighedWords(t *testing.T) {
	weighs := func(c *engine.Talk, _ *engine.Flow, cmd *engine.Command, rest string) (*engine.Command, bool) {
		switch rest {
		case "away":
			return nil, false
		case "instead":
			return c.E.Named(engine.DoOpen), false
		case "taken":
			c.Say("taken")
			return cmd, true
		}
		return cmd, false
	}
	f := floor.New(t, floor.Of(tells(engine.DoFloat, "float"), tells(engine.DoOpen, "open"),
		engine.Moments{},
		engine.Moments{Weighs: weighs}))
	for said, want := range map[string]string{
		"float": "bot> float \n", "float owner": "bot> float owner\n", "float instead": "bot> open instead\n",
		"float taken": "bot> taken\n",
		"float away":  "bot> I did not understand that.\n  Write help to see what I can do.\n",
	} {
		if got := f.Says("staff1", said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}

// Words that begin with no command may mean one; then all of them follow it.
func TestMeantWords(t *testing.T) {
	means := func(name, by string) engine.Moments {
		return engine.Moments{Means: func(_ *engine.Talk, low string) string {
			return map[bool]string{true: name}[low == by]
		}}
	}
	f := floor.New(t, floor.Of(tells(engine.DoFloat, "float"), tells(engine.DoOpen, "open"),
		engine.Moments{},
		means(engine.DoFloat, "our money"), means(engine.DoOpen, "it's closed")))
	for said, want := range map[string]string{
		"Our money": "bot> float our money\n", "It’s closed": "bot> open it's closed\n", "open": "bot> open \n",
	} {
		if got := f.Says("staff1", said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}

// A link that was made here is for the room that answers links; one that nobody
// made is for nobody.
func TestOpenedLinks(t *testing.T) {
	m := engine.Moments{Opened: func(*engine.Engine, chat.State, chat.Input, chat.Facts) chat.Result {
		return chat.Result{Replies: []chat.Reply{{Body: []chat.Block{{Text: "welcome"}}}}}
	}}
	f := floor.New(t, floor.Of(m, engine.Moments{}))
	for state, want := range map[chat.LinkState]string{chat.LinkGood: "welcome", chat.LinkUsed: "welcome",
		chat.LinkUnknown: "Sorry, I can't help here."} {
		f.Knows = func(facts *chat.Facts) { facts.Link = &chat.Link{State: state} }
		expect(t, f.Step("passer-by", chat.Input{Kind: chat.Opened}, "(link)"), want, "")
	}
	expect(t, f.Says("passer-by", "hi"), "Sorry, I can't help here.", "welcome")
	f.Knows = nil
	expect(t, f.Step("passer-by", chat.Input{Kind: chat.Opened}, "(link)"), "Sorry, I can't help here.",
		"welcome")
}

// Where a shop has several machines and nobody has said which is meant, work at
// one of them asks first, as the room that knows them says.
func TestWhichMachine(t *testing.T) {
	asked := ""
	m := engine.Moments{Which: func(c *engine.Talk, name string) bool {
		if name != engine.DoMove || !c.Unsure {
			return false
		}
		asked = name
		c.Say("which one?")
		return true
	}}
	beside := another(engine.DoFloat, "setup")
	beside.Company = engine.SideBySide
	f := floor.New(t, floor.Of(engine.Moments{}, m, twoScreens(), beside))
	expect(t, f.Says("staff1", "move"), "how?", "which one?")
	if got := f.State("staff1").Machine; got != 1 {
		t.Errorf("at machine %d", got)
	}
	secondMachine(f)
	expect(t, f.Says("staff2", "move"), "which one?", "how?")
	if got := f.State("staff2"); asked != engine.DoMove || got.Machine != 0 || got.Flow != "" {
		t.Errorf("asked for %q, at %+v", asked, got)
	}
	expect(t, f.Says("staff2", "float"), "setup?", "which one?")
	st := f.State("staff2")
	st.Machine = 1
	f.States[floor.ChatOf("staff2")] = st
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff2", "move"), "how?", "which one?")
}

// What one room has to say for another is asked of whoever says it.
func TestAskedOfARoom(t *testing.T) {
	week := ""
	advises := engine.Moments{
		Advice: &engine.Advising{Line: func(*engine.Talk) (string, bool) { return "load 40", true },
			Why: func(*engine.Talk) string { return "because" }},
		Week: func(_ *engine.Talk, n reminders.Name) { week += string(n.Date) },
	}
	for _, there := range []bool{false, true} {
		rooms := []engine.Declaration{engine.Moments{}}
		if there {
			rooms = append(rooms, advises)
		}
		f := floor.New(t, floor.Of(rooms...))
		c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, f.Facts("owner"))
		a := f.Engine.Advice
		c.E.Week(c, reminders.Name{Date: "2026-11-22"})
		line, known := a.Line(c)
		why := a.Why(c)
		if (line == "load 40") != there || known != there || (why == "because") != there || (week != "") != there {
			t.Errorf("there %t: said %q and %q, week %q", there, line, why, week)
		}
	}
	if week != "2026-11-22" {
		t.Errorf("told of %q", week)
	}
}

// The matters of all rooms are one list.
func TestMattersOfAllRooms(t *testing.T) {
	f := floor.New(t, floor.Of(engine.Moments{Matters: []engine.Matter{{Prefix: "a-"}, {Prefix: "b-"}}},
		engine.Moments{},
		engine.Moments{Matters: []engine.Matter{{Prefix: "c-"}}}))
	var got []string
	for _, m := range f.Engine.OpenMatters() {
		got = append(got, m.Prefix)
	}
	if !slices.Equal(got, []string{"a-", "b-", "c-"}) {
		t.Errorf("matters %v", got)
	}
}

// At first a rung tells whoever the matter is with, as long as they work there;
// then those of the list.
func TestWhoHas(t *testing.T) {
	f := floor.New(t, floor.Of())
	c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, f.Facts("owner"))
	list := reminders.People(f.Shop, "2026-11-25", reminders.Fault, shop.List)
	owners := reminders.People(f.Shop, "2026-11-25", reminders.Fault, shop.Owners)
	for _, x := range []struct {
		by   shop.PersonID
		to   shop.Group
		want []shop.PersonID
	}{{3, shop.List, []shop.PersonID{3}}, {99, shop.List, list}, {3, shop.Owners, owners}} {
		r := reminders.Rung{}
		r.To = x.to
		got := telling.WhoHas(c.Teller, x.by, "2026-11-25", reminders.Fault, r)
		if !slices.Equal(got, x.want) || len(got) == 0 {
			t.Errorf("%+v: %v", x, got)
		}
	}
}

// A deadline is answered at the machine it is about and is nothing the person
// did.
func TestRemind(t *testing.T) {
	f := floor.New(t, floor.Of(engine.Moments{Due: func(c *engine.Talk) {
		c.Deadline("again", c.In.At)
		c.TellPerson(2, chat.Reply{Body: []chat.Block{{Text: "due at " + c.Kit.Name}}})
	}}))
	secondMachine(f)
	f.Machine.ID = 2
	res := f.Does("owner", chat.Input{Kind: chat.Remind, Text: "x"})
	if expect(t, said(res), "due at Front", ""); len(res.Deadlines) != 1 || !res.Deadlines[0].At.Equal(f.Now) {
		t.Errorf("asked for %+v", res.Deadlines)
	}
	if st := res.State; st.Machine != 2 || !st.Last.IsZero() {
		t.Errorf("left %+v", st)
	}
}
