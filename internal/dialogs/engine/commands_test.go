package engine_test

import (
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// Which command words begin with, and what is left of them.
func TestCommandWords(t *testing.T) {
	const unknown = "bot> I did not understand that.\n  Write help to see what I can do.\n"
	for said, want := range map[string]string{
		"float":                  "bot> float \n",
		"/float":                 "bot> float \n",
		"  Float  ":              "bot> float \n",
		"FLOAT yesterday":        "bot> float yesterday\n",
		"float, yesterday":       "bot> float yesterday\n",
		"float: a, b":            "bot> float a, b\n",
		"float?":                 "bot> float \n",
		"floats":                 unknown,
		"a float":                unknown,
		"i want to float":        "bot> float \n",
		"can you please float 3": "bot> float 3\n",
		"please":                 unknown,
		"move notes":             "bot> move \n", // the longest words win
		"move notesx":            "bot> move notesx\n",
		"":                       unknown,
		"42":                     unknown,
	} {
		f := floor.New(t, floor.Of(tells(engine.DoFloat, "float"), tells(engine.DoMove, "move")))
		if got := f.Says("staff1", said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}

// Who may not is told so by role.
func TestCommandNotAllowed(t *testing.T) {
	only := tells(engine.DoFloat, "float")
	only.Role = access.Managing
	f := floor.New(t, floor.Of(only, twoScreens()))
	expect(t, f.Says("owner", "float"), "bot> float", "")
	expect(t, f.Says("staff1", "float"), "That is not part of your role here (staff).", "bot> float")
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "float"), "That is not part of your role here (staff).", "bot> float")
}

// Where nothing would be lost another command ends the dialog at once; where
// something would, it asks, and goes on with whatever is wanted.
func TestLeavingAsksFirst(t *testing.T) {
	loses := false
	flow := twoScreens()
	flow.Loses = func(*engine.Talk) bool { return loses }
	f := floor.New(t, floor.Of(flow, another(engine.DoOpen, "opening")))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "open 40"), "with: 40.|opening?", "One moment|Back to")
	loses = true
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "open 40"),
		"in the middle of moving notes|[Go on with moving notes]|[Leave moving notes]", "opening?")
	// the card below it still works
	expect(t, f.Chooses("staff1", "next"), "bot*> Moving notes|where?", "opening?")
	f.Says("staff1", "open 40")
	expect(t, f.Chooses("staff1", "go-on"), "where?", "opening?")
	expect(t, f.Chooses("staff1", "leave"), "where?", "opening?") // nothing waits any more
	f.Says("staff1", "open 40")
	before := f.State("staff1").Rev
	expect(t, f.Chooses("staff1", "leave"), "Stopped: moving notes.|with: 40.|opening?", "where?")
	if after := f.State("staff1"); after.Flow != engine.DoOpen || after.Rev <= before {
		t.Errorf("left for %+v", after)
	}
}

// The buttons of the card before the question whether to leave are dead, and its
// own say so.
func TestLeavingRetiresTheCard(t *testing.T) {
	flow := twoScreens()
	flow.Loses = func(*engine.Talk) bool { return true }
	f := floor.New(t, floor.Of(flow, another(engine.DoOpen, "opening")))
	f.Says("staff1", "move")
	res := f.Does("staff1", chat.Input{Kind: chat.Text, Text: "open"})
	if r := res.Replies[0]; r.Key != "d2" || r.Retire != "d1" || r.Buttons[0][0].Data != "d:2:go-on" {
		t.Errorf("asked by %+v", r)
	}
}

// What waits is not begun by somebody who may not any more.
func TestLeavingForWhatIsNotAllowed(t *testing.T) {
	flow, open := twoScreens(), another(engine.DoOpen, "opening")
	flow.Loses = func(*engine.Talk) bool { return true }
	flow.Rights.Role, open.Rights.Role = access.Everyone, access.Managing
	f := floor.New(t, floor.Of(flow, open))
	f.Shop.People[1].Role = shop.Manager
	f.Says("staff1", "move")
	f.Says("staff1", "open")
	f.Shop.People[1].Role = shop.Staff
	expect(t, f.Chooses("staff1", "leave"), "Stopped: moving notes.", "opening?")
}

// A photo is lost with a dialog, too.
func TestLeavingAPhoto(t *testing.T) {
	flow := twoScreens()
	flow.Loses = engine.LosesNothing
	f := floor.New(t, floor.Of(flow, another(engine.DoOpen, "opening")))
	f.Says("staff1", "move")
	f.Step("staff1", chat.Input{Kind: chat.Picture, Photo: photo("1")}, "(photo)")
	expect(t, f.Says("staff1", "open"), "You are in the middle", "opening?")
}

// What only tells leaves the dialog as it is, and its card is shown again.
func TestTellingWithinADialog(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens(), tells(engine.DoFloat, "float")))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "float 3"), "bot> float 3|Back to moving notes:|how?", "")
}

// A dialog's own command within it: alone it shows the card, with words it
// answers the open question or begins afresh, and what it cannot take it says.
func TestSameCommandAgain(t *testing.T) {
	flow := twoScreens()
	flow.Start = func(c *engine.Talk) { c.First("begun with " + c.Rest + "."); c.GoTo("first") }
	first := flow.Screens["first"]
	first.Answer = func(c *engine.Talk, s string) bool { c.First("answered " + s); return s == "20x5" }
	flow.Screens["first"] = first
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "move"), "Back to moving notes:|how?", "begun|answered")
	expect(t, f.Says("staff1", "move notes 20x5"), "answered 20x5|how?", "begun|Back to")
	expect(t, f.Says("staff1", "move the lot"),
		`I could not take in "the lot" here.|Back to moving notes:|how?`, "begun")
	f.Chooses("staff1", "next")
	expect(t, f.Says("staff1", "move 20x5"), `I could not take in "20x5" here.|where?`, "answered")
	flow.Again = engine.BegunAgain
	expect(t, f.Says("staff1", "move 20x5"), "begun with 20x5.|how?", "answered")
}

// Words that are neither a command nor an answer, with a dialog open and without.
func TestUnknownWords(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	expect(t, f.Says("staff1", "hm"), "I did not understand that.|Write help", "")
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "hm"), "I did not understand that. Nothing is lost.|Back to moving notes:|how?",
		"Write help")
}
