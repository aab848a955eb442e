package engine_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// hearing is a made-up dialog whose one screen takes what is said to it.
func hearing(takes func(string) bool, change func(*engine.Screen)) *engine.Flow {
	s := floor.Screen("how?", nil)
	s.Answer = func(c *engine.Talk, s string) bool { c.First("heard " + s); return takes(s) }
	if change != nil {
		change(&s)
	}
	return floor.MadeUp("ask", screens{"ask": s})
}

// What is said within a dialog is an answer or a command, by what it begins with
// and by how the screen and the command are declared.
func TestAnswerOrCommand(t *testing.T) {
	long := strings.Repeat(" week", 12)
	plea, answers := tells(engine.DoFaults, "faults"), tells(engine.DoFloat, "float")
	plea.Plea, answers.Answers = true, true
	for _, x := range []struct {
		free       bool
		said, want string
	}{
		{false, "hm", "heard hm"},
		{false, "history", "bot> history \n"},
		{false, "history 20", "bot> history 20"},
		{false, "history" + long, "bot> history week"},
		{false, "history" + long + " more", "heard history week"},
		{false, "faults", "bot> faults \n"},
		{false, "faults 20", "heard faults 20"},
		{false, "float", "heard float"},
		{true, "hm", "heard hm"},
		{true, "history", "bot> history \n"},
		{true, "history 20", "heard history 20"},
		{true, "the bank took its fee twice", "heard the bank took its fee twice"},
		{true, "bank took", "bot> debit \n"},
	} {
		flow := hearing(func(string) bool { return true }, func(s *engine.Screen) { s.Free = x.free })
		f := floor.New(t, floor.Of(flow, tells(engine.DoHistory, "history"),
			tells(engine.DoDebit, "debit"), plea, answers))
		f.Says("staff1", "move")
		if said := f.Says("staff1", x.said); !strings.Contains(said, x.want) {
			t.Errorf("free %t, %q: %q is missing in\n%s", x.free, x.said, x.want, said)
		}
	}
	f := floor.New(t, floor.Of(hearing(func(string) bool { return false }, nil), answers, plea))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "float 2"), "float 2", "not understand")
	expect(t, f.Says("staff1", "faults 2"), "faults 2", "not understand")
}

// A button's words may be typed, but what books is only tapped.
func TestTypedLabels(t *testing.T) {
	booked := 0
	books := chat.Button{Label: "Confirm", Data: "confirm"}
	flow := floor.MadeUp("ask", screens{
		"ask": {Ask: func(*engine.Talk) *engine.Card {
			return &engine.Card{Body: []chat.Block{{Text: "how?"}}, Buttons: [][]chat.Button{{books}}}
		},
			Taps: taps{"confirm": func(*engine.Talk) { booked++ }, "change": engine.GoBack("end"),
				"none": engine.GoBack("end"), "yes": engine.GoBack("end")}, Typed: []string{"none"}},
		"end": floor.Screen("where?", nil)})
	for said, want := range map[string]string{
		"Change!": "where?", "confirm": "tap Confirm.", "YES.": "tap Confirm.", "all right": "tap Confirm.",
		"nothing":   "where?",
		"change it": "not understand",
	} {
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		expect(t, f.Says("staff1", said), want, "")
	}
	books.Label = "So it was"
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "yes"), "If it is so, tap it.|[So it was]", "tap Confirm")
	if booked != 0 {
		t.Errorf("booked %d times by typing", booked)
	}
	ask := flow.Screens["ask"]
	ask.Free = true
	ask.Answer = func(c *engine.Talk, s string) bool { c.First("heard " + s); return true }
	flow.Screens["ask"] = ask
	f = floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "Change"), "heard Change", "where?")
}

// fake is a made-up question, as far as the engine knows one.
type fake struct {
	name    string
	answers []string
	noughts bool
	kept    bool
	again   string
}

func (q fake) Called() string                 { return q.name }
func (q fake) Answered(*engine.Talk) []string { return q.answers }
func (q fake) Noughts(*engine.Talk) bool      { return q.noughts }
func (q fake) Kept(*engine.Talk) bool         { return q.kept }
func (q fake) Retype(*engine.Talk) string     { return q.again }

// After half an hour a bare number is not an answer at once: what was typed so
// far is shown first.
func TestLongPause(t *testing.T) {
	for _, x := range []struct {
		pause time.Duration
		said  string
		asks  []engine.Asked
		want  string
	}{
		{30 * time.Minute, "40", nil, "heard 40"},
		{31 * time.Minute, "20x5", nil, "heard 20x5"},
		{31 * time.Minute, "40", nil,
			"Let us see where we were: moving notes, last at 06:40.|Nothing was typed yet.|how?"},
		{31 * time.Minute, "40", []engine.Asked{fake{name: "old"}, fake{name: "left",
			answers: []string{"50s 12", "20s 60"}}},
			"So far: 50s 12, 20s 60."},
		{31 * time.Minute, "40", []engine.Asked{fake{name: "tray", answers: []string{"20s 0"}, noughts: true}},
			"So far: 20s 0."},
		{31 * time.Minute, "40", []engine.Asked{fake{name: "left", answers: []string{"50s 12"}},
			fake{name: "tray", answers: []string{"20s 0"}, noughts: true}},
			"So far:\n  Left in the boxes: 50s 12\n  Box for refused notes: none"},
	} {
		flow := hearing(func(string) bool { return true }, nil)
		flow.Asks = x.asks
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(x.pause)
		said := f.Says("staff1", x.said)
		if expect(t, said, x.want, ""); strings.Contains(said, "heard") != strings.HasPrefix(x.want, "heard") {
			t.Errorf("%v, %s:\n%s", x.pause, x.said, said)
		}
	}
	flow := hearing(func(string) bool { return true }, func(s *engine.Screen) { s.Free = true })
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	f.Now = f.Now.Add(time.Hour)
	expect(t, f.Says("staff1", "40"), "heard 40", "where we were")
}
