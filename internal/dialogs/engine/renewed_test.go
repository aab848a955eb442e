package engine_test

import (
	"testing"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// older makes somebody's state one that an older program wrote down.
func older(f *floor.Floor, name string) {
	st := f.State(name)
	st.V = chat.StateFormat - 1
	f.States[floor.ChatOf(name)] = st
}

// typingAgain is a made-up dialog whose first screen takes what is typed, with a
// question of it as the engine knows it.
func typingAgain(asks ...engine.Asked) *engine.Flow {
	flow := twoScreens()
	first := flow.Screens["first"]
	first.Answer = func(c *engine.Talk, s string) bool { c.First("heard " + s); c.GoTo("second"); return true }
	flow.Screens["left"] = first
	flow.Start = func(c *engine.Talk) { c.GoTo("left") }
	flow.Asks = asks
	return flow
}

// A dialog of an older program, or in an older form, is not gone on with: what
// came in is not taken, and it can be begun again.
func TestRenewed(t *testing.T) {
	for name, age := range map[string]func(*floor.Floor, *engine.Flow){
		"an older program": func(f *floor.Floor, _ *engine.Flow) { older(f, "staff1") },
		"another form":     func(_ *floor.Floor, flow *engine.Flow) { flow.Version = 2 },
	} {
		flow := typingAgain()
		f := floor.New(t, floor.Of(flow, engine.Moments{Due: func(c *engine.Talk) { c.Say("due") }}))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(time.Minute)
		age(f, flow)
		expect(t, f.Says("staff1", "40"),
			"The program was renewed in the middle of moving notes.|"+
				"Only what you had confirmed is recorded. Begin again?|[Begin again]", "heard|how?")
		if st := f.State("staff1"); st.V != chat.StateFormat || !st.Last.Equal(f.Now) {
			t.Errorf("%s: %+v", name, st)
		}
		if key := f.State("staff1").Rev; key != 3 { // the card that was there before has no number of this one
			t.Errorf("%s: the card is number %d", name, key)
		}
		expect(t, f.Taps("staff1", "Begin again"), "bot*> Moving notes|how?", "renewed")
		age(f, flow)
		flow.Version += 2
		expect(t, sees(f, "staff1"), "The program was renewed", "how?|Back to")
		flow.Version++
		res := f.Does("staff1", chat.Input{Kind: chat.Remind, Text: "x"})
		expect(t, said(res), "due", "renewed")
	}
}

// What an older program's dialog was is unknown to this one, or it was none.
func TestRenewedOfNothing(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.States[floor.ChatOf("staff1")] = chat.State{V: 1, Flow: "gone", Step: "x", Rev: 4}
	expect(t, f.Says("staff1", "hm"), "I did not understand that.", "renewed")
	if st := f.State("staff1"); st.Flow != "" || st.Rev != 5 || st.V != chat.StateFormat {
		t.Errorf("left %+v", st)
	}
	f.States[floor.ChatOf("staff1")] = chat.State{V: 1, Rev: 4}
	expect(t, f.Says("staff1", "move"), "how?", "renewed")
	f.States[floor.ChatOf("staff1")] = chat.State{V: chat.StateFormat, Flow: "renewed", Step: "ask", Rev: 4,
		Draft: chat.Draft{V: 1, Renewed: &chat.Renewed{Flow: "gone"}}}
	expect(t, sees(f, "staff1"), "Nothing is open here.", "")
}

// The figures that were typed are told, and typed again if the person wants:
// those that are in no record, each part by its name once there are several.
func TestRenewedTellsWhatWasTyped(t *testing.T) {
	left := fake{name: "left", answers: []string{"50s 12", "20s 60"}, again: "12 60"}
	none := fake{name: "tray", answers: []string{"20s 0"}, noughts: true}
	kept := fake{name: "paid", answers: []string{"20s 7"}, kept: true, again: "20x7"}
	for _, x := range []struct {
		asks  []engine.Asked
		told  string
		offer string
	}{
		{[]engine.Asked{fake{name: "old"}, left, kept}, "You had typed: 50s 12, 20s 60.",
			"[Take them over]|[Count again]"},
		{[]engine.Asked{left, none},
			"You had typed: Left in the boxes: 50s 12, 20s 60; Box for refused notes: none.",
			"[Take them over]|[Count again]"},
		{[]engine.Asked{none}, "You had typed: none.", "[Count again]"},
		{[]engine.Asked{kept}, "Begin again?", "[Begin again]"},
	} {
		f := floor.New(t, floor.Of(typingAgain(x.asks...)))
		f.Says("staff1", "move")
		older(f, "staff1")
		said := f.Says("staff1", "40")
		expect(t, said, x.told+"|"+x.offer, "")
		if _, ok := f.Button("staff1", "Take them"); ok != (x.offer[1] == 'T') {
			t.Errorf("offered %v", f.Choices("staff1"))
		}
	}
}

// Taken over, the figures are typed again where they belong; begun again, they
// are not.
func TestRenewedTakesOver(t *testing.T) {
	for label, want := range map[string]string{"Take them over": "heard 12 60|where?", "Count again": "how?"} {
		f := floor.New(t, floor.Of(typingAgain(fake{name: "left", answers: []string{"50s 12"}, again: "12 60"})))
		f.Says("staff1", "move")
		f.Step("staff1", chat.Input{Kind: chat.Picture, Photo: photo("1")}, "(photo)")
		older(f, "staff1")
		f.Says("staff1", "40")
		expect(t, f.Taps("staff1", label), want, "renewed")
		if st := f.State("staff1"); len(st.Draft.Photos) != 1 || st.Draft.V != 1 || len(st.Draft.Retyped) != 0 {
			t.Errorf("%s: %+v", label, st.Draft)
		}
	}
}

// A screen that takes no words asks as if nothing had been typed.
func TestRetypedWhereNothingIsTyped(t *testing.T) {
	flow := twoScreens()
	flow.Asks = []engine.Asked{fake{name: "first", answers: []string{"x"}, again: "x"}}
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	older(f, "staff1")
	f.Says("staff1", "40")
	expect(t, f.Taps("staff1", "Take them over"), "how?", "")
}

// Somebody who may not begin the dialog any more does not.
func TestRenewedNotAllowed(t *testing.T) {
	flow := twoScreens()
	flow.Rights.Role = access.Managing
	f := floor.New(t, floor.Of(flow))
	f.Says("owner", "move")
	older(f, "owner")
	f.Says("owner", "40")
	f.Shop.People[0].Role = shop.Staff
	expect(t, f.Taps("owner", "Begin again"), "That is not part of your role here (staff).", "how?")
}

// A code or a combination that came in meanwhile is taken out of the chat.
func TestRenewedDropsSecrets(t *testing.T) {
	for _, kind := range []chat.Kind{chat.Secret, chat.Proof, chat.Text} {
		f := floor.New(t, floor.Of(twoScreens()))
		f.Says("staff1", "move")
		older(f, "staff1")
		res := f.Does("staff1", chat.Input{Kind: kind, Text: "40", Message: 9})
		if dropped := res.Replies[0].Delete == 9; dropped != (kind != chat.Text) {
			t.Errorf("%s: dropped %t", kind, dropped)
		}
		expect(t, said(res), "The program was renewed", "")
	}
}
