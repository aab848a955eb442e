package engine_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// leaving is a made-up dialog at its last tap, in which counts were typed; when it books it
// says of which time that is.
func leaving(change func(*engine.Flow)) *engine.Flow {
	flow := floor.MadeUp("review", screens{"review": floor.Screen("right?",
		taps{"confirm": func(c *engine.Talk) { c.Close(chat.Lines("booked for " + c.Clock(c.When()))) }})})
	flow.Of, flow.Paper, flow.Loses = engine.ThatMoment, engine.ThatDay, func(*engine.Talk) bool { return true }
	flow.Asks = []engine.Asked{fake{name: "left", answers: []string{"50s 12"}}}
	if change != nil {
		change(flow)
	}
	return flow
}

// A dialog that was left hours ago with nothing missing but its tap is asked whether it
// happened, when something else is begun: then it is booked as of that time, and what was
// asked for comes after it. In all other cases it is only go on or leave.
func TestLeftDialog(t *testing.T) {
	asks := func(list ...engine.Asked) func(*engine.Flow) {
		return func(f *engine.Flow) { f.Asks = list }
	}
	const left = "Left since 06:40, not recorded: Moving notes of Wed 25 Nov."
	for name, s := range map[string]struct {
		change func(*engine.Flow)
		rest   time.Duration
		asked  bool
	}{
		"two hours":      {nil, 2 * time.Hour, true},
		"not so long":    {nil, 2*time.Hour - time.Second, false},
		"of no day":      {func(f *engine.Flow) { f.Of = nil }, 3 * time.Hour, false},
		"never on paper": {func(f *engine.Flow) { f.Paper = engine.OffPaper }, 3 * time.Hour, false},
		"nothing to tap": {func(f *engine.Flow) {
			f.Screens["review"] = floor.Screen("how?", nil)
		}, 3 * time.Hour, false},
		"a count is in":    {asks(fake{name: "left", answers: []string{"x"}, kept: true}), 3 * time.Hour, false},
		"an empty one is":  {asks(fake{name: "left", kept: true}), 3 * time.Hour, true},
		"nothing is asked": {asks(), 3 * time.Hour, true},
	} {
		f := floor.New(t, floor.Of(leaving(s.change), another(engine.DoFloat, "found")))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(s.rest)
		got := f.Says("staff1", "float 5")
		if asked := strings.Contains(got, left); asked != s.asked {
			t.Errorf("%s: asked %t\n%s", name, asked, got)
		}
		if s.asked == strings.Contains(got, "You are in the middle of moving notes") {
			t.Errorf("%s: also asked to go on\n%s", name, got)
		}
		if !s.asked {
			continue
		}
		if name != "nothing is asked" && name != "an empty one is" && !strings.Contains(got, "50s 12") {
			t.Errorf("%s: it does not say what was typed\n%s", name, got)
		}
		expect(t, f.Taps("staff1", "It did"), "This was at Wed 25 Nov, 06:40.|right?", "found?")
		f.Chooses("staff1", "confirm")
		got = f.Out.String()
		if flowOf(f, "staff1") != engine.DoFloat || !strings.Contains(got, "booked for 06:40") ||
			!strings.Contains(got, "with: 5.") {
			t.Errorf("%s: in %q\n%s", name, flowOf(f, "staff1"), got)
		}
	}
}

// What was asked for may not be any more when the dialog that was left is booked.
func TestLeftDialogThenNoRight(t *testing.T) {
	f := floor.New(t, floor.Of(leaving(nil), another(engine.DoFloat, "found")))
	f.Says("staff1", "move")
	f.Now = f.Now.Add(3 * time.Hour)
	f.Says("staff1", "float")
	f.Says("staff1", "yes")
	f.Knows = func(facts *chat.Facts) { facts.Person.Role = shop.Bookkeeper }
	f.Chooses("staff1", "confirm")
	if got := flowOf(f, "staff1"); got != "" {
		t.Errorf("in %q\n%s", got, f.Out.String())
	}
}

// What can be told after a count waits for a closing that was asked for: nobody's count is
// to learn from it. When that is over it comes back with its time; one that cannot be read
// any more does not.
func TestLeftDialogWaitsForACount(t *testing.T) {
	for name, s := range map[string]struct {
		late, settles, broken bool
		at                    string
	}{
		"it waits":               {true, true, false, engine.DoFloat},
		"it does not come late":  {false, true, false, engine.DoMove},
		"what comes settles not": {true, false, false, engine.DoMove},
		"of another program":     {true, true, true, engine.DoFloat},
	} {
		closing := another(engine.DoFloat, "found")
		closing.Settles = s.settles
		ask := closing.Screens["ask"]
		ask.Taps = taps{"end": func(c *engine.Talk) { c.Close(chat.Lines("counted")) }}
		closing.Screens["ask"] = ask
		f := floor.New(t, floor.Of(leaving(func(f *engine.Flow) { f.Late = s.late }), closing))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(3 * time.Hour)
		f.Says("staff1", "float")
		got := f.Taps("staff1", "It did")
		if flowOf(f, "staff1") != s.at {
			t.Errorf("%s: in %q\n%s", name, flowOf(f, "staff1"), got)
		}
		if s.at == engine.DoMove {
			continue
		}
		expect(t, got, "I ask for it again once your count is in.|found?", "right?")
		if s.broken {
			st := f.State("staff1")
			st.Draft.Aside.Draft = []byte("[]")
			f.States[floor.ChatOf("staff1")] = st
		}
		f.Chooses("staff1", "end")
		got = f.Out.String()
		if back := strings.Contains(got, "This was at Wed 25 Nov, 06:40."); back == s.broken ||
			(flowOf(f, "staff1") == engine.DoMove) == s.broken {
			t.Errorf("%s: back %t, in %q\n%s", name, back, flowOf(f, "staff1"), got)
		}
	}
}
