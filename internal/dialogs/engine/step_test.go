package engine_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// A card has the dialog's name in its first line, the question, its buttons, and
// at last what can always be tapped. The one tapped is put in its place; typed
// words make a new one, and the buttons of the old one are dead.
func TestCards(t *testing.T) {
	flow := twoScreens()
	second := flow.Screens["second"]
	second.Answer = func(c *engine.Talk, s string) bool { c.First("heard " + s); return s != "hm" }
	flow.Screens["second"] = second
	f := floor.New(t, floor.Of(flow))
	for _, x := range []struct {
		in                      chat.Input
		body, key, edit, retire string
	}{
		{chat.Input{Kind: chat.Text, Text: "move"}, "Moving notes|how?", "d1", "", ""},
		{chat.Input{Kind: chat.Press, Tap: "d:1:next"}, "Moving notes|where?", "d2", "d1", ""},
		{chat.Input{Kind: chat.Text, Text: "there"}, "Moving notes|heard there|where?", "d3", "", "d2"},
		{chat.Input{Kind: chat.Press, Tap: "d:3:confirm"}, "kept", "d4", "d3", ""},
	} {
		res := f.Does("staff1", x.in)
		if len(res.Replies) != 1 {
			t.Fatalf("%+v: %d replies", x.in, len(res.Replies))
		}
		r := res.Replies[0]
		var body []string
		for _, b := range r.Body {
			body = append(body, b.Text)
		}
		if got := strings.Join(body, "|"); got != x.body || r.Key != x.key || r.Edit != x.edit ||
			r.Retire != x.retire {
			t.Errorf("%+v: %q, key %q, in place of %q, ends %q", x.in, got, r.Key, r.Edit, r.Retire)
		}
	}
	if st := f.State("staff1"); st.Flow != "" || st.Step != "" || !st.Since.IsZero() || !st.Last.Equal(f.Now) {
		t.Errorf("left behind %+v", st)
	}
}

// The buttons of a card carry its number, those of cards that stand by
// themselves their machine; a row without a button is not sent.
func TestButtonsAreTagged(t *testing.T) {
	flow := floor.MadeUp("ask", screens{"ask": {Ask: func(c *engine.Talk) *engine.Card {
		return &engine.Card{Buttons: [][]chat.Button{c.Button("yes", "yes"), {}, nil,
			{{Label: "Card", Data: "o:say:1"},
				{Label: "Other", Data: "o:say:1:7"}}}}
	}}})
	f := floor.New(t, floor.Of(flow))
	res := f.Does("staff1", chat.Input{Kind: chat.Text, Text: "move"})
	var got [][]string
	for _, row := range res.Replies[0].Buttons {
		var data []string
		for _, b := range row {
			data = append(data, b.Data)
		}
		got = append(got, data)
	}
	want := [][]string{{"d:1:yes"}, {"o:say:1:1", "o:say:1:7"}, {"d:1:unfold"}}
	if !slices.EqualFunc(got, want, slices.Equal[[]string]) {
		t.Errorf("buttons %v, want %v", got, want)
	}
}

// A dialog begins at the machine at hand, now.
func TestBeginning(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Says("staff1", "move")
	st := f.State("staff1")
	if st.V != chat.StateFormat || st.Machine != 1 || !st.Since.Equal(f.Now) || st.Step != "first" ||
		!st.Works || st.Blind {
		t.Errorf("begun as %+v", st)
	}
}

// A tap on an earlier card books nothing: it is said, and the card at hand is
// shown again below.
func TestStaleTaps(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Says("staff1", "move")
	old := chat.Button{Label: "old", Data: "d:1:next"}
	f.Press("staff1", old)
	expect(t, f.Press("staff1", old),
		"bot!> That button is from an earlier step|Back to moving notes:|where?|[More]", "")
	f.Chooses("staff1", "confirm")
	if said := f.Press("staff1",
		old); said != "bot!> That button is from an earlier step. Nothing was booked.\n" {
		t.Errorf("with no dialog open:\n%s", said)
	}
	expect(t, f.Chooses("staff1", "next"), "an earlier step. Nothing was booked.", "[") // of the next card
	f.Says("staff1", "move")
	for _, tap := range []string{"", "d:x:next", "x:1:next", "o:nothing:1", "o:move:1"} {
		if tap == "o:nothing:1" {
			expect(t, f.Press("staff1", chat.Button{Data: tap}), "not part of your role", "how?")
			continue
		}
		expect(t, f.Press("staff1", chat.Button{Data: tap}), "does not work any more", "how?")
	}
	before := f.State("staff1")
	expect(t, f.Chooses("staff1", "confirm"), "does not work any more", "how?")
	if after := f.State("staff1"); after.Rev != before.Rev || after.Step != before.Step {
		t.Errorf("a choice of another screen led to %+v", after)
	}
}

// What a screen takes beside its taps by name goes to it, and what it does not
// take is said.
func TestTapOfALine(t *testing.T) {
	flow := floor.MadeUp("ask", screens{"ask": {
		Ask: func(*engine.Talk) *engine.Card { return &engine.Card{Body: []chat.Block{{Text: "which?"}}} },
		Tap: func(c *engine.Talk, choice string) bool { c.First("took " + choice); return choice == "line-1" },
	}})
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	expect(t, f.Chooses("staff1", "line-1"), "bot*> Moving notes|took line-1|which?", "any more")
	expect(t, f.Chooses("staff1", "line-2"), "does not work any more", "which?")
}

// Screens that have nothing left to ask are passed through, and one that leads
// to itself ends.
func TestScreensPassedThrough(t *testing.T) {
	pass := func(next string) engine.Screen {
		return engine.Screen{Ask: func(c *engine.Talk) *engine.Card { c.GoTo(next); return nil }}
	}
	table := screens{"end": floor.Screen("here?", nil), "a": pass("b"), "b": pass("a")}
	for i := range 30 {
		table["s"+strconv.Itoa(i)] = pass("s" + strconv.Itoa(i+1))
	}
	table["s19"] = pass("end")
	asked := 0
	table["stays"] = engine.Screen{Ask: func(*engine.Talk) *engine.Card { asked++; return nil }}
	for at, want := range map[string]string{"s0": "", "s1": "here?", "a": "", "stays": ""} {
		f := floor.New(t, floor.Of(floor.MadeUp(at, table)))
		if said := f.Says("staff1", "move"); strings.Contains(said, "here?") != (want != "") {
			t.Errorf("from %s:\n%s", at, said)
		}
	}
	if asked != 1 {
		t.Errorf("a screen that stays and shows nothing was asked %d times", asked)
	}
}

// Cancel ends a dialog, tapped or typed, and says what became of it.
func TestCancel(t *testing.T) {
	parted := 0
	flow := twoScreens()
	flow.Parting = func(*engine.Talk) func(*engine.Talk) {
		parted++
		return func(c *engine.Talk) { c.Say("by the way") }
	}
	f := floor.New(t, floor.Of(flow))
	for i, cancel := range []func() string{
		func() string { return f.Chooses("staff1", "cancel") }, func() string {
			return f.Says("staff1",
				"cancel please")
		},
		func() string { return f.Says("staff1", "STOP.") },
	} {
		f.Says("staff1", "move")
		expect(t, cancel(), "Stopped: moving notes. Nothing of it was booked.|bot> by the way", "how?")
		if flowOf(f, "staff1") != "" || parted != i+1 {
			t.Errorf("%d: in %q, parted %d times", i, flowOf(f, "staff1"), parted)
		}
	}
	expect(t, f.Says("staff1", "cancel"), "Nothing is open here.", "Stopped")
}

// "What is this?" stands where a screen has an answer to it, below which the
// question is shown again.
func TestWhatIsThis(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Says("staff1", "move")
	expect(t, f.Chooses("staff1", "what"), f.Engine.Texts.In("en", "IE",
		"EUR").Say("what.move")+"|Back to moving notes:|how?", "")
	f.Chooses("staff1", "next")
	if slices.Contains(f.Choices("staff1"), "what") {
		t.Error("offered where there is no answer")
	}
}

// While the safe is open customers can come: the dialog is put aside, its card
// is dead, and Go on brings it back.
func TestCustomersCame(t *testing.T) {
	flow := twoScreens()
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	if slices.Contains(f.Choices("staff1"), "customers") {
		t.Error("asked for although the safe is shut")
	}
	expect(t, f.Says("staff1", "customers came"), "I did not understand that.|how?", "lock the safe")
	flow.Safe = engine.SafeOpen
	for _, come := range []func() string{
		func() string { return f.Taps("staff1", "Customers") },
		func() string { return f.Says("staff1", "customers came!") },
	} {
		f.Says("staff1", "move")
		rev := f.State("staff1").Rev
		expect(t, come(), "First: lock the safe.|Your moving notes is kept.|[Go on]", "how?")
		for _, old := range []int{rev - 1, rev} {
			expect(t, f.Press("staff1", chat.Button{Data: "d:" + strconv.Itoa(old) + ":next"}),
				"an earlier step", "where?")
			come()
		}
		expect(t, f.Chooses("staff1", "go-on"), "bot*> Moving notes|how?|[Customers came]", "")
	}
}

// What is no text, tap or photo is said not to be read, and so is a change of
// what was written.
func TestOtherInputs(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Says("staff1", "move")
	for kind, want := range map[chat.Kind]string{
		chat.Edited: "I take what you wrote first", chat.Foreign: "I can read text, photos and button taps",
		"sticker":   "I can read",
		chat.Opened: "Write what you do", chat.Redraw: "Back to moving notes:",
	} {
		expect(t, f.Step("staff1", chat.Input{Kind: kind}, string(kind)), want, "")
	}
	if flowOf(f, "staff1") == "" {
		t.Error("the dialog is gone")
	}
	last := f.State("staff1").Last
	f.Now = f.Now.Add(time.Minute)
	sees(f, "staff1")
	if !f.State("staff1").Last.Equal(last) {
		t.Error("showing a card again is taken for something the person did")
	}
	f.Says("staff1", "hm")
	if !f.State("staff1").Last.Equal(f.Now) {
		t.Error("a message is not taken for something the person did")
	}
}

// Nobody outside the shop is told anything, and a shop without a machine says so.
func TestStrangers(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	expect(t, f.Says("passer-by", "move"), "Sorry, I can't help here.", "how?")
	f.Shop.Machines, f.Machine = nil, nil
	expect(t, f.Says("staff1", "move"), "This shop has no machine yet.", "how?")
	f.Shop.Fresh = true
	expect(t, f.Says("staff1", "cancel"), "Nothing is open here.", "no machine")
}

// A step changes nothing that it was given, whatever a dialog does with its copy:
// the state is kept at hand, and a step that is taken again must begin at the same.
func TestStepLeavesItsInputAlone(t *testing.T) {
	flow := floor.MadeUp("ask", screens{"ask": floor.Screen("how?", taps{"spoil": func(c *engine.Talk) {
		st := &c.State
		st.Seen[1], st.Snoozed["a"], st.Draft.Retyped["ask"] = 9, 9, "9"
		st.Walk.Taken[0], st.Walk.Under.Step, st.Walk.Step = "9", "9", "9"
		st.Draft.Photos[0].ID = "9"
	}})})
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	st := f.State("staff1")
	st.Seen, st.Snoozed = map[shop.MachineID]int64{1: 3}, map[string]int{"a": 1}
	st.Walk = &chat.Walk{Guide: "g", Step: "s", Taken: []string{"x"}, Under: &chat.Walk{Step: "u"}}
	st.Draft.Retyped = map[string]string{"other": "1"}
	st.Draft.Photos = append(st.Draft.Photos, photo("1"))
	f.States[floor.ChatOf("staff1")] = st
	f.Chooses("staff1", "spoil") // the floor compares
	if f.State("staff1").Seen[1] != 9 {
		t.Error("nothing was changed in the copy either")
	}
}
