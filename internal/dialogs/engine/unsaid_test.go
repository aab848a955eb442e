package engine_test

import (
	"slices"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// twoMachines is a floor of a shop of two machines, with a card of each that begins moving notes
// or does something else. Nobody said yet which machine their chat is about.
func twoMachines(t *testing.T, does func(*engine.Talk)) *floor.Floor {
	t.Helper()
	s := shop.Example()
	hall := s.Machines[0]
	hall.ID, hall.Name = 2, "Hall"
	s.Machines = append(slices.Clone(s.Machines), hall)
	made, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	flow := twoScreens()
	flow.Cards = []engine.Standing{{Name: engine.DoMove, Tap: func(c *engine.Talk, _ string) { does(c) }}}
	f := floor.New(t, floor.Of(flow))
	f.Takes(made)
	return f
}

// Where somebody never said which machine is meant, the first one is taken and nothing is
// remembered of it; what a card of another machine began is of that one until it ends.
func TestMachineOfACard(t *testing.T) {
	begins := func(c *engine.Talk) { c.CarryOut(engine.DoMove) }
	hall := chat.Button{Label: "move there", Data: "o:move:1:2"}
	f := twoMachines(t, begins)
	f.Says("staff1", "move")
	if at := f.State("staff1").Machine; at != 0 || f.Machine.ID != 1 {
		t.Errorf("by a word: machine %d is remembered, %d is asked", at, f.Machine.ID)
	}
	f = twoMachines(t, begins)
	expect(t, f.Press("staff1", hall), "how?", "")
	expect(t, f.Chooses("staff1", "next"), "where?", "")
	if at := f.State("staff1").Machine; at != 2 || f.Machine.ID != 2 {
		t.Errorf("by a card: machine %d is remembered, %d is asked", at, f.Machine.ID)
	}
	f = twoMachines(t, func(c *engine.Talk) { begins(c); c.Close(chat.Lines("done at once")) })
	f.Press("staff1", hall)
	if at := f.State("staff1").Machine; at != 0 {
		t.Errorf("what ended at once leaves machine %d", at)
	}
}

// While somebody counts, the buttons of a dialog that tells no figures do what they always do.
func TestTapsWhileOthersCount(t *testing.T) {
	for figures, want := range map[bool]string{false: "where?", true: "is counting"} {
		flow := twoScreens()
		if flow.Tells = engine.TellsNothing; figures {
			flow.Tells = engine.TellsFigures
		}
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		f.Knows = func(facts *chat.Facts) {
			facts.Others = []chat.Activity{{Person: 3, Flow: "closing", Blind: true, Since: f.Now}}
		}
		expect(t, f.Chooses("staff1", "next"), want, "")
	}
}

// A tap puts the next card in the place of the one that was tapped; a button's words that were
// typed stand below it, and so does what they lead to.
func TestTypedIsNoEdit(t *testing.T) {
	flow := twoScreens()
	flow.Screens["first"] = floor.Screen("how?", taps{"change": engine.GoBack("second")})
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	expect(t, f.Chooses("staff1", "change"), "bot*> Moving notes|where?", "")
	f.Says("staff1", "cancel")
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "Change!"), "bot> Moving notes|where?", "bot*> ")
}

// Words that nobody understands bring a dialog's card back, but not a mere view.
func TestNoViewComesBack(t *testing.T) {
	for view, want := range map[bool][2]string{true: {"not understand", "Back to|how?"},
		false: {"Back to moving notes:|how?", ""}} {
		flow := hearing(func(string) bool { return false }, func(s *engine.Screen) { s.Answer = nil })
		flow.View, flow.Loses = view, engine.LosesNothing
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		expect(t, f.Says("staff1", "hm hm"), want[0], want[1])
	}
}

// Figures that come with the command of the dialog under way are not taken for a question
// behind a count that is recorded.
func TestFiguresAfterWhatIsKept(t *testing.T) {
	for kept, want := range map[bool][2]string{true: {"could not take in \"20\"|how?", "heard"},
		false: {"heard 20", "could not"}} {
		flow := typingAgain(fake{name: "left", answers: []string{"50s 12"}, kept: kept})
		flow.Again = engine.AnswersAgain
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		expect(t, f.Says("staff1", "move 20"), want[0], want[1])
	}
}

// Whoever left a dialog at its last tap hours ago and begins it again with other figures is
// asked first whether what was left happened.
func TestSameAgainHoursLater(t *testing.T) {
	for rest, want := range map[time.Duration]string{2 * time.Hour: "Left since 06:40, not recorded",
		time.Hour: "right?"} {
		f := floor.New(t, floor.Of(leaving(nil)))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(rest)
		expect(t, f.Says("staff1", "move 20"), want, "")
		f = floor.New(t, floor.Of(leaving(nil)))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(rest)
		expect(t, f.Says("staff1", "move"), "right?", "Left since")
	}
}
