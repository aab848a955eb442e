package engine_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
)

// The command of an older program's dialog shows again what was typed for it; with figures
// behind it begins with these. Another one asks first, as something would be lost.
func TestRenewedByItsCommand(t *testing.T) {
	begun := func(answers ...string) *floor.Floor {
		flow := typingAgain(fake{name: "left", answers: answers, again: strings.Join(answers, " ")})
		flow.Start = func(c *engine.Talk) { c.First("with: " + c.Rest + "."); c.GoTo("left") }
		f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found")))
		f.Says("staff1", "move")
		older(f, "staff1")
		expect(t, f.Says("staff1", "hm"), "The program was renewed", "how?")
		return f
	}
	f := begun("50s 12")
	expect(t, f.Says("staff1", "move"), "The program was renewed|You had typed: 50s 12", "how?|[Go on")
	expect(t, f.Says("staff1", "move 40"), "with: 40.|how?", "You had typed|[Go on")
	f = begun("50s 12")
	expect(t, f.Says("staff1", "float"), "[Go on|[Leave", "found?")
	f = begun() // nothing was typed, so nothing can be taken over
	expect(t, f.Says("staff1", "move"), "with: .|how?", "The program was renewed")
	f = begun()
	expect(t, f.Says("staff1", "float"), "found?", "[Leave")
}

// What an older program waited for on a phone that several people use is a code only where it
// knew whose: then what is typed next is taken out of the chat.
func TestRenewedWaitsForACode(t *testing.T) {
	for name, s := range map[string]struct {
		held   *chat.Held
		shared bool
		code   bool
	}{
		"whose code is known": {&chat.Held{Person: 2}, true, true}, "not yet": {&chat.Held{}, true, false},
		"nothing waits": {nil, true, false}, "on a phone of their own": {&chat.Held{Person: 2}, false, false},
	} {
		f := floor.New(t, floor.Of(twoScreens()))
		f.Knows = func(facts *chat.Facts) { facts.Shared = s.shared }
		f.Says("staff1", "move")
		st := f.State("staff1")
		st.Held = s.held
		f.States[floor.ChatOf("staff1")] = st
		older(f, "staff1")
		expect(t, f.Says("staff1", "hm"), "The program was renewed", "")
		if got := f.State("staff1"); got.Code != s.code || got.Held != nil && s.shared {
			t.Errorf("%s: waits for a code %t, held %+v", name, got.Code, got.Held)
		}
	}
}

// A dialog that begins at a tap says so where it is to begin again.
func TestRenewedBeginsAtATap(t *testing.T) {
	flow := twoScreens()
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	older(f, "staff1")
	f.Says("staff1", "hm")
	flow.Start = func(c *engine.Talk) {}
	expect(t, f.Taps("staff1", "Begin again"), "Please tap or write once more what you want to do.", "how?")
	if flowOf(f, "staff1") != "" {
		t.Errorf("in %s", flowOf(f, "staff1"))
	}
}

// A card that lies there for hours and would be booked by the next person's command is told of
// where that begins a dialog; one that only tells leaves it as it is.
func TestLeftBehind(t *testing.T) {
	for said, passes := range map[string]bool{"float": true, "history": false} {
		flow := twoScreens()
		flow.Passes = true
		f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found"), tells(engine.DoHistory, "history")))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(3 * time.Hour)
		got := f.Says("staff1", said)
		if strings.Contains(got, "06:40") != passes || (flowOf(f, "staff1") == engine.DoMove) == passes {
			t.Errorf("%s: in %q\n%s", said, flowOf(f, "staff1"), got)
		}
	}
}

// How long a dialog was left counts from what was answered last, by a tap or in words.
func TestLeftSinceTheLastAnswer(t *testing.T) {
	flow := leaving(nil)
	review := flow.Screens["review"]
	review.Answer = func(c *engine.Talk, s string) bool { c.First("heard " + s); return true }
	flow.Screens["review"] = review
	f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found")))
	f.Says("staff1", "move")
	f.Chooses("staff1", "stay")
	f.Now = f.Now.Add(110 * time.Minute)
	expect(t, f.Says("staff1", "the blue ones"), "heard", "Left since")
	f.Now = f.Now.Add(30 * time.Minute)
	expect(t, f.Says("staff1", "float"), "in the middle of moving notes", "Left since")
	f.Says("staff1", "go on")
	f.Now = f.Now.Add(2 * time.Hour)
	expect(t, f.Says("staff1", "float"), "Left since 08:30|[It did]", "in the middle")
}

// Who has to go is told to lock an open safe, and of a shut one not; a dialog that does not
// keep anybody at the machine has nothing to say of that.
func TestMustGo(t *testing.T) {
	for name, s := range map[string]struct {
		change    func(*engine.Flow)
		want, not string
	}{
		"open": {func(f *engine.Flow) { f.Safe = engine.SafeOpen },
			"First: lock the safe.|kept and not finished", ""},
		"shut": {func(*engine.Flow) {}, "kept and not finished", "lock the safe"},
		"not at the machine": {func(f *engine.Flow) { f.Safe, f.Presence = engine.SafeOpen, engine.OutOfWay },
			"not understand", "kept|lock"},
	} {
		flow := twoScreens()
		s.change(flow)
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		t.Run(name, func(t *testing.T) { expect(t, f.Says("staff1", "i have to go"), s.want, s.not) })
	}
}

// "No" at a card that can be confirmed and changed is a change; where one of the two is missing
// or notes are looked for it is something else.
func TestNoIsAChange(t *testing.T) {
	leads := func(choices ...string) taps {
		list := taps{}
		for _, c := range choices {
			list[c] = engine.GoBack("end")
		}
		return list
	}
	for name, s := range map[string]struct {
		taps  taps
		finds bool
		end   bool
	}{
		"both":          {leads("confirm", "change"), false, true},
		"only confirm":  {leads("confirm"), false, false},
		"only change":   {leads("change"), false, false},
		"what is found": {leads("confirm", "change"), true, false},
	} {
		first := floor.Screen("how?", s.taps)
		first.Finds = s.finds
		f := floor.New(t, floor.Of(floor.MadeUp("ask", screens{"ask": first, "end": floor.Screen("where?", nil)})))
		f.Says("staff1", "move")
		if got := f.Says("staff1", "no"); strings.Contains(got, "where?") != s.end {
			t.Errorf("%s:\n%s", name, got)
		}
	}
}

// Who asks for help in other words at a card is told what that is about, where it says so; the
// command for help itself tells what can be done.
func TestHelpAtACard(t *testing.T) {
	for what, within := range map[string]bool{"what.move": true, "": false} {
		flow := twoScreens()
		first := flow.Screens["first"]
		first.What = what
		flow.Screens["first"] = first
		f := floor.New(t, floor.Of(flow, engine.Moments{Stray: func(c *engine.Talk, _ *engine.Flow) bool {
			c.CarryOut("help")
			return true
		}}))
		f.Says("staff1", "move")
		about := f.Talk("staff1").V.Say("what.move")[:20]
		if got := f.Says("staff1", "hm"); strings.Contains(got, about) != within ||
			strings.Contains(got, "Write what you do") == within {
			t.Errorf("about %q:\n%s", what, got)
		}
		expect(t, f.Says("staff1", "help"), "Write what you do", about)
	}
}

// What a tap books at another machine has stood as long as what it books here.
func TestStoodBeside(t *testing.T) {
	for name, s := range map[string]struct{ here, beside int }{
		"here": {1, 0}, "beside": {0, 1}, "both": {1, 1}, "nothing": {0, 0},
	} {
		flow := leaving(nil)
		flow.Screens["review"] = floor.Screen("right?", taps{"confirm": func(c *engine.Talk) {
			for range s.here {
				c.Records = append(c.Records, books.Ruled(opening()))
			}
			c.Beside = append(c.Beside, make([]settling.Booking, s.beside)...)
			c.Close(chat.Lines("done"))
		}})
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(3 * time.Hour)
		got := f.Chooses("staff1", "confirm")
		if asked := strings.Contains(got, "Did it happen then, or just now?"); asked != (s.here+s.beside > 0) {
			t.Errorf("%s: asked %t\n%s", name, asked, got)
		}
	}
}

// What was put aside for a count comes back once that is settled, and then the command that is
// asked for; where nothing was put aside nothing comes.
func TestSettle(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens(), another(engine.DoFloat, "found")))
	f.Says("staff1", "move")
	draft := f.State("staff1").Draft
	f.Says("staff1", "float")
	c := f.Talk("staff1")
	if c.Settle(engine.DoFloat); c.State.Flow != engine.DoFloat || c.State.Draft.Then != nil {
		t.Errorf("nothing was put aside, and it is at %s", c.State.Flow)
	}
	form, err := json.Marshal(draft)
	if err != nil {
		t.Fatal(err)
	}
	c.State.Draft.Aside = &chat.Aside{Flow: engine.DoMove, Step: "second", Draft: form}
	c.Settle(engine.DoFloat)
	if then := c.State.Draft.Then; c.State.Flow != engine.DoMove || c.State.Step != "second" || then == nil ||
		then.Command != engine.DoFloat {
		t.Errorf("at %s of %s, then %+v", c.State.Step, c.State.Flow, c.State.Draft.Then)
	}
}

// Go on or leave says what was typed only of a dialog that asks for counts; it is shown again
// for what is neither of the two, which is not taken.
func TestForkTellsWhatWasTyped(t *testing.T) {
	for name, s := range map[string]struct {
		asks      []engine.Asked
		want, not string
	}{
		"counts": {[]engine.Asked{fake{name: "left", answers: []string{"50s 12"}}},
			"begun 06:40, not recorded.|50s 12", "is recorded, the rest"},
		"a count is in": {[]engine.Asked{fake{name: "left", answers: []string{"50s 12"}, kept: true}},
			"The count is recorded, the rest is not.", "not recorded."},
		"choices": {nil, "in the middle of moving notes", "begun 06:40"},
	} {
		flow := twoScreens()
		flow.Loses, flow.Asks = func(*engine.Talk) bool { return true }, s.asks
		f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found")))
		f.Says("staff1", "move")
		t.Run(name, func(t *testing.T) {
			expect(t, f.Says("staff1", "float"), s.want+"|[Go on with moving notes]", s.not)
			expect(t, f.Says("staff1", "the blue ones"), `could not take in "the blue ones"|`+
				"[Go on with moving notes]", "found?|not understand")
		})
	}
}

// While somebody counts a bookkeeper, who may not count, sees the figures, and a phone of which
// nobody is known does not.
func TestWhoIsBehindTheCurtain(t *testing.T) {
	f := floor.New(t, floor.Of(counting()))
	f.Says("staff2", "close")
	for role, want := range map[shop.Role]bool{shop.Bookkeeper: false, shop.Staff: true, shop.Owner: true,
		"": true} {
		facts := f.Facts("owner")
		if facts.Person.Role = role; role == "" {
			facts.Person = shop.Person{}
		}
		c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, facts)
		if c.Hidden() != want {
			t.Errorf("%q: hidden %t", role, c.Hidden())
		}
	}
}

// The words of a button on the newest card are its tap: of a card by itself where it says so, and
// never where one tap erases something.
func TestButtonsTyped(t *testing.T) {
	for typed, want := range map[string]string{"safe": "bot> tapped 7\nbot> noted", "books": "not understand",
		"none": "not understand"} {
		say := tapped()
		say.Rights.Role = access.Everyone
		say.Tap = func(c *engine.Talk, arg string) { c.Say("tapped " + arg); c.Notice = "noted" }
		if typed != "none" {
			say.Typed = func(arg string) bool { return typed == "safe" && arg == "7" }
		}
		f := floor.New(t, floor.Of(say, engine.Moments{Stray: func(c *engine.Talk, _ *engine.Flow) bool {
			if c.In.Text != "offer" {
				return false
			}
			c.Send(chat.Reply{Body: []chat.Block{{Text: "look"}}, Buttons: [][]chat.Button{
				{{Label: "Tell me", Data: "o:say:7"}}}})
			return true
		}}))
		f.Says("staff1", "offer")
		expect(t, f.Says("staff1", "tell me"), want, "")
	}
	erase := taps{"yes": func(c *engine.Talk) { c.Close(chat.Lines("erased")) }}
	for label, want := range map[string]string{"Erase Ben": "Nothing is booked by typing", "Yes": "erased"} {
		flow := floor.MadeUp("ask", screens{"ask": {Taps: erase, Ask: func(c *engine.Talk) *engine.Card {
			return &engine.Card{Body: []chat.Block{{Text: "sure?"}},
				Buttons: [][]chat.Button{{{Label: label, Data: "yes"}}}}
		}}})
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		expect(t, f.Says("staff1", strings.ToLower(label)), want, "")
	}
}

// On a card that is only a view a word that is a command as well is the command, alone, and
// else the button.
func TestButtonOrCommand(t *testing.T) {
	for view, want := range map[bool]string{true: "bot> float \n", false: "where?"} {
		flow := floor.MadeUp("ask", screens{"end": floor.Screen("where?", nil),
			"ask": {Taps: taps{"next": engine.GoBack("end")}, Ask: func(c *engine.Talk) *engine.Card {
				return &engine.Card{Body: []chat.Block{{Text: "how?"}}, Buttons: [][]chat.Button{
					{{Label: "Float", Data: "next"}}, {{Label: "Float 5", Data: "next"}}}}
			}}})
		flow.View, flow.Loses = view, func(*engine.Talk) bool { return false }
		f := floor.New(t, floor.Of(flow, tells(engine.DoFloat, "float")))
		f.Says("staff1", "move")
		expect(t, f.Says("staff1", "float"), want, "")
		f.Says("staff1", "cancel")
		f.Says("staff1", "move")
		expect(t, f.Says("staff1", "float 5"), "where?", "bot> float")
	}
}

// While it is open whose phone it is only what everybody who counts may do goes on.
func TestDisputed(t *testing.T) {
	for name, s := range map[string]struct {
		rights engine.Rights
		may    bool
	}{
		"everybody who counts":  {engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), true},
		"everybody":             {engine.May(access.Everyone, engine.OwnPhone, engine.OnceSetUp), true},
		"of a phone for sure":   {engine.May(access.Counting, engine.SurePhone, engine.OnceSetUp), false},
		"managers":              {engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp), false},
		"managers, sure phones": {engine.May(access.Managing, engine.SurePhone, engine.OnceSetUp), false},
	} {
		command := tells(engine.DoFloat, "float")
		command.Rights = s.rights
		f := floor.New(t, floor.Of(command))
		expect(t, f.Says("owner", "float"), "bot> float", "")
		f.Knows = func(facts *chat.Facts) { facts.Person.Disputed = true }
		if got := f.Says("owner", "float"); strings.Contains(got, "bot> float") != s.may {
			t.Errorf("%s:\n%s", name, got)
		}
	}
}

// A message of the shop and not of a machine says so, where it says a place at all.
func TestPlaceOfAReply(t *testing.T) {
	for name, s := range map[string]struct {
		place, want string
		shopwide    bool
	}{
		"of a machine": {"Example corner shop, Front", "Example corner shop, Front", false},
		"of the shop":  {"Example corner shop, Front", "Example corner shop", true},
		"of none":      {"", "", true},
	} {
		f := floor.New(t, floor.Of(twoScreens()))
		secondMachine(f)
		c := f.Talk("owner")
		c.Shopwide, c.Nowhere = s.shopwide, true
		c.Send(chat.Reply{Place: s.place, Body: []chat.Block{{Text: "look"}}})
		if got := c.Done().Replies[0].Place; got != s.want {
			t.Errorf("%s: %q, want %q", name, got, s.want)
		}
	}
}

// A message is changed where it stands by a tap and in other chats; for typed words it comes as
// a new one, whose forerunner takes no tap any more.
func TestRewrite(t *testing.T) {
	others := chat.Audience{Person: 2}
	for _, s := range []struct {
		kind         chat.Kind
		to           chat.Audience
		edit, retire string
	}{
		{chat.Press, chat.Audience{}, "k", ""}, {chat.Text, chat.Audience{}, "", "k"},
		{chat.Text, others, "k", ""}, {chat.Press, others, "k", ""},
	} {
		f := floor.New(t, floor.Of(twoScreens()))
		c := f.Talk("owner")
		c.In.Kind = s.kind
		c.Rewrite(chat.Reply{Key: "k", To: s.to, Body: []chat.Block{{Text: "look"}}})
		if r := c.Replies[0]; r.Edit != s.edit || r.Retire != s.retire || r.Key != "k" {
			t.Errorf("%s to %+v: in place of %q, ends %q", s.kind, s.to, r.Edit, r.Retire)
		}
	}
}

// A figure waits in a dialog that tells figures and has something in it, and in no other.
func TestPends(t *testing.T) {
	for name, s := range map[string]struct{ begun, tells, loses, want bool }{
		"it waits": {true, true, true, true}, "nothing typed": {true, true, false, false},
		"it tells none": {true, false, true, false}, "no dialog": {false, true, true, false},
	} {
		flow := twoScreens()
		flow.Loses, flow.Company = func(*engine.Talk) bool { return s.loses }, engine.SideBySide
		if s.tells {
			flow.Tells = engine.TellsFigures
		}
		f := floor.New(t, floor.Of(flow))
		if s.begun {
			f.Says("owner", "move")
		}
		if got := f.Talk("owner").Pends(); got != s.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}

// Words that end a month of the books are the month's command with the month behind it.
func TestEndOfAMonth(t *testing.T) {
	f := floor.New(t, floor.Of(tells(engine.DoMonth, "month"), tells(engine.DoFinish, "finish")))
	expect(t, f.Says("owner", "close october"), "month october", "finish")
	f = floor.New(t, floor.Of(tells(engine.DoFinish, "finish"), tells(engine.DoClose, "close")))
	expect(t, f.Says("owner", "close october"), "", "month")
}

// A command's words with a time behind them may mean another one, which a room says.
func TestWordsWithHours(t *testing.T) {
	means := engine.Moments{Means: func(_ *engine.Talk, low string) string {
		return map[bool]string{true: engine.DoHistory}[strings.Contains(low, "tomorrow") || low == "open"]
	}}
	for hours, want := range map[bool]string{true: "bot> history open late tomorrow",
		false: "bot> open late tomorrow"} {
		open := tells(engine.DoOpen, "open")
		open.Hours = hours
		f := floor.New(t, floor.Of(open, tells(engine.DoHistory, "history"), means))
		expect(t, f.Says("owner", "open late tomorrow"), want, "")
		expect(t, f.Says("owner", "open"), "bot> open", "history")
		expect(t, f.Says("owner", "open late"), "bot> open late", "history")
	}
}

// What midnight finds on a card of a dialog that may come late was there by its last answer, and
// is booked as of that; on the same day, and in a dialog that is never late, it is as of the tap.
func TestWhenMidnightPasses(t *testing.T) {
	for name, s := range map[string]struct {
		late      bool
		begun, at string
		want      string
	}{
		"midnight passed": {true, "2026-11-25 23:50", "2026-11-26 00:20", "booked for Wed 25 Nov, 23:50"},
		"the same day":    {true, "2026-11-25 21:00", "2026-11-25 21:20", "booked for 21:20"},
		"never late":      {false, "2026-11-25 23:50", "2026-11-26 00:20", "booked for 00:20"},
	} {
		flow := leaving(func(f *engine.Flow) { f.Late, f.Of = s.late, nil })
		f := floor.New(t, floor.Of(flow))
		f.At(s.begun)
		f.Says("staff1", "move")
		f.At(s.at)
		t.Run(name, func(t *testing.T) { expect(t, f.Chooses("staff1", "confirm"), s.want, "") })
	}
}
