package engine_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/incidents"
	"shopfloat/internal/shop"
)

// Where a name is asked for, one that is a command's word is a name if it is written like
// one: not what ends the dialog, and no call for help.
func TestNamesThatAreCommands(t *testing.T) {
	plea := tells(engine.DoFaults, "faults")
	plea.Plea = true
	for said, want := range map[string]string{
		"Float":  "heard Float",
		" Float": "heard  Float",
		"float":  "bot> float",
		"Faults": "bot> faults",
		"Cancel": "Stopped: moving notes",
		"Zoé":    "heard Zoé",
	} {
		flow := hearing(func(string) bool { return true }, func(s *engine.Screen) { s.Named = true })
		f := floor.New(t, floor.Of(flow, tells(engine.DoFloat, "float"), plea))
		f.Says("staff1", "move")
		got := f.Says("staff1", said)
		if expect(t, got, want, ""); (flowOf(f, "staff1") == "") != (said == "Cancel") {
			t.Errorf("%q: in %q\n%s", said, flowOf(f, "staff1"), got)
		}
	}
}

// "Back" leads to the screen before, else to what can be changed, else out: but not when
// something would be lost by that.
func TestBack(t *testing.T) {
	leads := func(choice string) taps { return taps{choice: engine.GoBack("end")} }
	for name, s := range map[string]struct {
		taps  taps
		loses bool
		want  string
	}{
		"to the screen before":       {leads("back"), true, "where?"},
		"to what can be changed":     {leads("change"), true, "where?"},
		"to the figures":             {leads("figures"), true, "where?"},
		"out":                        {leads("other"), false, "Stopped: moving notes"},
		"not with something to lose": {leads("other"), true, "[Cancel]"},
	} {
		flow := floor.MadeUp("ask", screens{"ask": floor.Screen("how?", s.taps),
			"end": floor.Screen("where?", nil)})
		flow.Loses = func(*engine.Talk) bool { return s.loses }
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		got := f.Says("staff1", "back")
		if expect(t, got, s.want, "not understand"); (flowOf(f, "staff1") == "") != (name == "out") {
			t.Errorf("%s: in %q\n%s", name, flowOf(f, "staff1"), got)
		}
	}
}

// chosen is a made-up draft.
type chosen struct {
	What string `json:"what,omitempty"`
}

// A dialog that keeps choices asks before it is left once something was chosen, and not
// before; one that keeps no draft never does.
func TestLosesChoices(t *testing.T) {
	for name, s := range map[string]struct {
		draft func() any
		asks  bool
	}{"a draft": {func() any { return &chosen{} }, true}, "none": {nil, false}} {
		flow := twoScreens()
		flow.Loses, flow.Draft = engine.LosesChoices, s.draft
		first := flow.Screens["first"]
		first.Taps = taps{"next": func(c *engine.Talk) {
			if s.draft != nil {
				engine.Drafted[chosen](c).What = "till"
			}
		}}
		flow.Screens["first"] = first
		f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found")))
		f.Says("staff1", "move")
		f.Says("staff1", "float")
		if flowOf(f, "staff1") != engine.DoFloat {
			t.Errorf("%s: nothing was chosen, and leaving is asked about:\n%s", name, f.Out.String())
		}
		f.Play("staff1: cancel\nstaff1: move")
		f.Chooses("staff1", "next")
		f.Says("staff1", "float")
		if (flowOf(f, "staff1") == engine.DoMove) != s.asks {
			t.Errorf("%s: in %q\n%s", name, flowOf(f, "staff1"), f.Out.String())
		}
	}
}

// A dialog about a period is of the day that was opened for; about none it is of today.
func TestOfItsPeriod(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Record(2, books.Ruled(books.Record{Kind: books.Opening, Happened: f.Now.UTC(), Day: "2026-11-24",
		Figures: []books.Figure{{Field: books.Loaded, Box: 1, Face: "50", Notes: 1}}}))
	c := f.Talk("staff1")
	for period, want := range map[int64]shop.Date{1: "2026-11-24", 0: "2026-11-25", 9: "2026-11-25"} {
		c.State.Draft.Period = period
		if got := engine.ItsPeriod(c); got != want {
			t.Errorf("period %d: %s, want %s", period, got, want)
		}
	}
}

// A card that was shown under another day takes nothing: what was typed is said back, and a
// tap books nothing.
func TestAnotherDay(t *testing.T) {
	day := shop.Date("2026-11-25")
	flow := hearing(func(string) bool { return true }, func(s *engine.Screen) {
		s.Taps = taps{"next": func(c *engine.Talk) { c.First("tapped") }}
	})
	flow.Of = func(*engine.Talk) shop.Date { return day }
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	day = "2026-11-26"
	const old = "The card before this one said: Moving notes of Wed 25 Nov."
	expect(t, f.Says("staff1", "40 fifties"), old+"|could not take in \"40 fifties\"|Moving notes of Thu 26 Nov",
		"heard")
	day = "2026-11-27"
	f.Chooses("staff1", "next")
	expect(t, f.Says("staff1", "40"), "heard 40", "tapped|card before this one")
}

// What was chosen under an older form is made readable before the figures are told, where
// the dialog says how.
func TestRecall(t *testing.T) {
	for _, recalls := range []bool{true, false} {
		flow := typingAgain(fake{name: "left", answers: []string{"50s 12"}, again: "12"})
		flow.Draft = func() any { return &chosen{} }
		recalled := ""
		if recalls {
			flow.Recall = func(_ *engine.Talk, choices map[string]string) { recalled = choices["what"] }
		}
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		st := f.State("staff1")
		st.Draft.Choices = map[string]string{"what": "till"}
		f.States[floor.ChatOf("staff1")] = st
		older(f, "staff1")
		expect(t, f.Says("staff1", "hm"), "You had typed: 50s 12", "")
		if (recalled == "till") != recalls {
			t.Errorf("recalled %q", recalled)
		}
	}
}

// A robbery hushes the routine for an hour after it was spoken of, and no longer; another
// fault never does, nor one that is over.
func TestHushed(t *testing.T) {
	for name, s := range map[string]struct {
		fault books.Fault
		after time.Duration
		want  bool
	}{
		"just now":      {books.Fault{Topic: chat.Robbery}, time.Minute, true},
		"nearly":        {books.Fault{Topic: chat.Robbery}, time.Hour - time.Second, true},
		"an hour after": {books.Fault{Topic: chat.Robbery}, time.Hour, false},
		"a jam":         {books.Fault{Topic: "note-jam"}, time.Minute, false},
		"it is over":    {books.Fault{Topic: chat.Robbery, Ending: books.Solved}, time.Minute, false},
	} {
		f := floor.New(t, floor.Of(twoScreens()))
		s.fault.Seq, s.fault.Began = 1, f.Now
		f.Machine.Faults = []books.Fault{s.fault}
		f.Now = f.Now.Add(s.after)
		if got := incidents.Hushed(f.Talk("staff1").Teller); got != s.want {
			t.Errorf("%s: hushed %t", name, got)
		}
	}
}

// What a card means can be asked in words; a screen that says nothing of it has no such words.
func TestAskedWhatItMeans(t *testing.T) {
	for what, want := range map[string]string{"what.move": "Moving notes", "": "not understand"} {
		flow := twoScreens()
		first := flow.Screens["first"]
		first.What = what
		flow.Screens["first"] = first
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		v := f.Talk("staff1").V
		got := f.Says("staff1", v.Say("button.what"))
		if what != "" {
			want = v.Say(what)[:20]
		}
		expect(t, got, want+"|how?", "")
	}
}

// The first line of a card holds for a time, and only for the card it was made for: a screen
// with a title of its own says that, and so does another language.
func TestHeadingHolds(t *testing.T) {
	flow := twoScreens()
	flow.Of = engine.ThatMoment
	flow.Holds = func(_ *shop.Shop, at time.Time) time.Time { return at.Add(time.Hour) }
	second := flow.Screens["second"]
	second.Title = "found"
	flow.Screens["second"] = second
	f := floor.New(t, floor.Of(flow))
	expect(t, f.Says("staff1", "move"), "Moving notes of Wed 25 Nov|how?", "")
	f.Chooses("staff1", "next")
	expect(t, f.Out.String(), "Found notes of Wed 25 Nov", "")
	if held := f.State("staff1").Draft.Holds; held.Title != "found" || !held.Until.Equal(f.Now.Add(time.Hour)) {
		t.Errorf("%+v", held)
	}
}
