package engine_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// counting is a made-up count, during which nobody may see what should be there.
func counting() *engine.Flow {
	f := another(engine.DoClose, "closing")
	ask := f.Screens["ask"]
	ask.Blind = true
	f.Screens["ask"] = ask
	f.Company = engine.SideBySide
	return f
}

// While somebody counts, a dialog that would tell figures ends, however it is
// touched, also for whoever counts; others go on.
func TestCurtain(t *testing.T) {
	const hidden = "Somebody is counting."
	tells := twoScreens()
	tells.Company = engine.SideBySide
	first := tells.Screens["first"]
	first.Answer = func(*engine.Talk, string) bool { return true }
	tells.Screens["first"] = first
	for name, touch := range map[string]func(*floor.Floor) string{
		"tapped":      func(f *floor.Floor) string { return f.Chooses("owner", "next") },
		"cancelled":   func(f *floor.Floor) string { return f.Chooses("owner", "cancel") },
		"typed":       func(f *floor.Floor) string { return f.Says("owner", "40") },
		"shown again": func(f *floor.Floor) string { return sees(f, "owner") },
		"begun again": func(f *floor.Floor) string { f.Says("owner", "cancel"); return f.Says("owner", "move") },
	} {
		for _, told := range []bool{true, false} {
			tells.Tells = engine.TellsNothing
			if told {
				tells.Tells = engine.TellsFigures
			}
			f := floor.New(t, floor.Of(tells, counting()))
			f.Says("owner", "move")
			f.Says("staff1", "close")
			got := touch(f)
			if told {
				expect(t, got, hidden, "how?|where?|Stopped")
			} else {
				expect(t, got, "", hidden)
			}
			if told && flowOf(f, "owner") != "" {
				t.Errorf("%s: still at %s", name, stepOf(f, "owner"))
			}
			f.Says("staff1", "cancel")
			expect(t, f.Says("owner", "move"), "Moving notes", hidden)
		}
	}
}

// A tap that ends at the curtain puts the words in place of its card.
func TestCurtainInPlace(t *testing.T) {
	tells := twoScreens()
	tells.Tells = engine.TellsFigures
	f := floor.New(t, floor.Of(tells, counting()))
	f.Says("owner", "move")
	f.States[floor.ChatOf("staff1")] = chat.State{V: chat.StateFormat, Flow: engine.DoClose, Works: true,
		Blind: true}
	res := f.Does("owner", chat.Input{Kind: chat.Press, Tap: "d:1:next"})
	if r := res.Replies[0]; r.Edit != "d1" || len(res.Replies) != 1 {
		t.Errorf("replied %+v", res.Replies)
	}
}

// What is hidden is hidden from whoever counts, too, and only at blind screens.
func TestHidden(t *testing.T) {
	blind := counting()
	blind.Screens["open"] = floor.Screen("where?", nil)
	f := floor.New(t, floor.Of(blind))
	f.Says("staff1", "close")
	if !f.State("staff1").Blind || !f.State("staff1").Works {
		t.Errorf("counting as %+v", f.State("staff1"))
	}
	for _, x := range []struct {
		step   string
		others []chat.Activity
		want   bool
	}{
		{"ask", nil, true}, {"open", nil, false}, {"open", []chat.Activity{{}, {Blind: true}}, true},
		{"open", []chat.Activity{{}}, false},
	} {
		facts := f.Facts("staff1")
		facts.Others = x.others
		c := f.Engine.Talk(f.State("staff1"), chat.Input{At: f.Now}, facts)
		if c.GoTo(x.step); c.Hidden() != x.want {
			t.Errorf("at %s beside %v: %t", x.step, x.others, c.Hidden())
		}
	}
}

// A robbery that is on record is a caution at each card at which the safe is
// open, until it is over; in its own chat nothing is added to what is said.
func TestRobbery(t *testing.T) {
	const caution = "A robbery is on record."
	shut, open := twoScreens(), another(engine.DoOpen, "opening")
	open.Safe = engine.SafeOpen
	f := floor.New(t, floor.Of(shut, open, tells(engine.DoFloat, "float")))
	expect(t, f.Says("staff1", "open"), "opening?", caution)
	f.Record(2, books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "jam"}, Happened: f.Now.UTC()})
	expect(t, sees(f, "staff1"), "opening?", caution)
	f.Record(2, books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: chat.Robbery},
		Happened: f.Now.UTC()})
	expect(t, sees(f, "staff1"), caution+" Count and tidy|opening?", "")
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff1", "move"), "how?", caution)
	expect(t, f.Says("staff1", "float"), "bot> float|Back to moving notes:", caution)
	st := f.State("staff1")
	st.Walk = &chat.Walk{Guide: chat.Robbery, Fault: 2, Last: f.Now}
	f.States[floor.ChatOf("staff1")] = st
	expect(t, f.Says("staff1", "float"), "bot> float", "Back to|how?")
	for _, w := range []*chat.Walk{{Guide: "jam", Fault: 2}, {Guide: chat.Robbery, Fault: 2,
		Taken: []string{"over"}}} {
		st.Walk = w
		f.States[floor.ChatOf("staff1")] = st
		expect(t, f.Says("staff1", "float"), "bot> float|Back to moving notes:", "")
	}
	st.Walk = &chat.Walk{Guide: chat.Robbery, Fault: 2, Last: f.Now}
	st.Flow, st.Step, st.Draft.V = engine.DoOpen, "ask", 1
	f.States[floor.ChatOf("staff1")] = st
	expect(t, sees(f, "staff1"), "opening?", caution)
	f.Record(1, books.Record{Kind: books.News, Target: 2, Trouble: &books.Trouble{Ending: books.Solved},
		Happened: f.Now.UTC()})
	expect(t, f.Says("staff1", "float"), "Back to opening|opening?", caution)
}
