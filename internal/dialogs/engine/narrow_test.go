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

// "More" shows what the card is about where it can be told, and only then.
func TestWhatIsThisIsOffered(t *testing.T) {
	for what, want := range map[string]bool{"what.move": true, "": false} {
		first := floor.Screen("how?", nil)
		first.What = what
		f := floor.New(t, floor.Of(floor.MadeUp("first", screens{"first": first})))
		f.Says("staff1", "move")
		f.Taps("staff1", "More")
		if _, ok := f.Button("staff1", "What is this"); ok != want {
			t.Errorf("about %q: offered %t in %q", what, ok, f.Choices("staff1"))
		}
	}
}

// Whether somebody was told that they left a dialog is forgotten with what they
// do next, and not with what comes by itself.
func TestLeftIsForgotten(t *testing.T) {
	for kind, want := range map[chat.Kind]bool{
		chat.Text: false, chat.Press: false, chat.Redraw: false, chat.Remind: true, chat.Read: true,
	} {
		f := floor.New(t, floor.Of(twoScreens()))
		f.Says("staff1", "move")
		st := f.State("staff1")
		st.Left = true
		f.States[floor.ChatOf("staff1")] = st
		f.Does("staff1", chat.Input{Kind: kind, Text: "x"})
		if got := f.State("staff1").Left; got != want {
			t.Errorf("%v: left %t", kind, got)
		}
	}
}

// The first line of a card is worked out anew as soon as anything that it was
// made of is another.
func TestHeadingStands(t *testing.T) {
	flow := hearing(func(string) bool { return true }, nil)
	asked := 0
	flow.Of = func(*engine.Talk) shop.Date { asked++; return "2026-11-25" }
	flow.Holds = func(_ *shop.Shop, at time.Time) time.Time { return at.Add(time.Hour) }
	for name, x := range map[string]struct {
		change func(*chat.Holding)
		stands bool
	}{
		"nothing is":     {func(*chat.Holding) {}, true},
		"another shop":   {func(h *chat.Holding) { h.Shop++ }, false},
		"a new version":  {func(h *chat.Holding) { h.Version++ }, false},
		"their language": {func(h *chat.Holding) { h.Lang = "xx" }, false},
		"another title":  {func(h *chat.Holding) { h.Title = "swap" }, false},
		"it is too late": {func(h *chat.Holding) { h.Until = h.From }, false},
		"too early":      {func(h *chat.Holding) { h.From = h.Until }, false},
	} {
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(time.Minute)
		st := f.State("staff1")
		x.change(&st.Draft.Holds)
		f.States[floor.ChatOf("staff1")] = st
		asked = 0
		f.Says("staff1", "40")
		if (asked == 0) != x.stands {
			t.Errorf("%s: the day is asked %d times", name, asked)
		}
	}
}

// The words of the buttons are taken where go on or leave stands, however they
// are written; other words are not.
func TestForkIsTyped(t *testing.T) {
	for said, want := range map[string]string{
		"go on with moving notes": engine.DoMove, "Go on with moving notes.": engine.DoMove,
		"leave moving notes": engine.DoFloat, "LEAVE MOVING NOTES!": engine.DoFloat,
		"go on with nothing": "", "leave it be": "",
	} {
		flow := twoScreens()
		flow.Loses = func(*engine.Talk) bool { return true }
		f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found")))
		f.Says("staff1", "move")
		f.Says("staff1", "float")
		said2 := f.Says("staff1", said)
		stays := f.State("staff1").Draft.Leave != nil
		if stays != (want == "") || !stays && flowOf(f, "staff1") != want {
			t.Errorf("%q: in %q, asked still %t\n%s", said, flowOf(f, "staff1"), stays, said2)
		}
	}
}

// The command of the dialog under way goes on with it, with figures too, unless
// the period that it was begun for is no longer the one that is open.
func TestSameCommandOfAnotherPeriod(t *testing.T) {
	for name, x := range map[string]struct {
		opened, of int64 // the period that is open, and that of the dialog; 0 for none
		late       bool  // the dialog is about an earlier time
		anew       bool
	}{
		"the same":           {1, 1, false, false},
		"none is open":       {0, 1, false, false},
		"of none":            {1, 0, false, false},
		"another":            {1, 7, false, true},
		"of an earlier time": {1, 7, true, false},
	} {
		flow, begun := hearing(func(string) bool { return true }, nil), 0
		flow.Lasts = true
		flow.Start = func(c *engine.Talk) { begun++; c.GoTo("ask") }
		f := floor.New(t, floor.Of(flow))
		if x.opened > 0 {
			opens(f, 2)
		}
		f.Says("staff1", "move")
		st := f.State("staff1")
		st.Draft.Period = x.of
		if x.late {
			st.Draft.Happened = f.Now.Add(-time.Hour)
		}
		f.States[floor.ChatOf("staff1")] = st
		begun = 0
		said := f.Says("staff1", "move 40")
		if (begun > 0) != x.anew {
			t.Errorf("%s: begun anew %d times\n%s", name, begun, said)
		}
	}
}

// A reply without buttons leaves those of the card before it in force.
func TestShownStays(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens(), tells(engine.DoHistory, "history")))
	f.Says("owner", "move")
	shown := f.State("owner").Shown
	flow := f.Talk("owner")
	flow.Say("words alone")
	flow.Done()
	if len(shown) == 0 || len(flow.State.Shown) != len(shown) {
		t.Errorf("%d buttons are shown, then %d", len(shown), len(flow.State.Shown))
	}
}

// A renewed dialog whose period is not there any more offers nothing to take over.
func TestRenewedOfAPeriodThatIsGone(t *testing.T) {
	for period, offered := range map[int64]bool{0: true, 1: true, 9: false} {
		f := floor.New(t, floor.Of(typingAgain(fake{name: "left", answers: []string{"50s 12"}, again: "12"})))
		opens(f, 2)
		f.Says("staff1", "move")
		older(f, "staff1")
		f.Says("staff1", "40")
		st := f.State("staff1")
		st.Draft.Renewed.Period = period
		f.States[floor.ChatOf("staff1")] = st
		said := sees(f, "staff1")
		if strings.Contains(said, "[Take them over]") != offered || strings.Contains(said,
			"over by now") == offered {
			t.Errorf("period %d: want it offered %t\n%s", period, offered, said)
		}
	}
}

// Who works at the machine by an older program's dialog works there by its card.
func TestRenewedKeepsPresence(t *testing.T) {
	for presence, works := range map[string]bool{"at work": true, "out of the way": false} {
		flow := typingAgain()
		flow.Presence = engine.AtWork
		if !works {
			flow.Presence = engine.OutOfWay
		}
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		older(f, "staff1")
		f.Says("staff1", "40")
		if got := f.State("staff1").Draft.Renewed.Works; got != works {
			t.Errorf("%s: works %t", presence, got)
		}
	}
}

// A card of figures takes no number while somebody counts, one without does.
func TestNumberBehindTheCurtain(t *testing.T) {
	for tells, want := range map[string]string{"nothing": "heard 40", "figures": "is counting"} {
		flow := hearing(func(string) bool { return true }, nil)
		if flow.Company = engine.SideBySide; tells == "figures" {
			flow.Tells = engine.TellsFigures
		}
		f := floor.New(t, floor.Of(flow, counting()))
		f.Says("owner", "move")
		f.Says("staff2", "close")
		said := f.Says("owner", "40")
		if strings.Contains(said, "heard 40") != (tells == "nothing") {
			t.Errorf("tells %s: want %q\n%s", tells, want, said)
		}
	}
}

// What was answered stays when words behind the same command are no answer.
func TestSameCommandKeepsTheAnswer(t *testing.T) {
	flow := hearing(func(s string) bool { return s != "hm" }, nil)
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	st := f.State("staff1")
	st.Draft.Answers = map[string]*chat.Answers{"ask": {Counts: []int64{12}}}
	f.States[floor.ChatOf("staff1")] = st
	f.Says("staff1", "move hm")
	if a := f.State("staff1").Draft.Answers["ask"]; a == nil || len(a.Counts) != 1 || a.Counts[0] != 12 {
		t.Errorf("kept %+v", a)
	}
	f.Says("staff1", "move 40")
	if a := f.State("staff1").Draft.Answers["ask"]; a != nil && len(a.Counts) > 0 {
		t.Errorf("another answer, and kept %+v", a)
	}
}

// The command that ends months has its words only where it is a command.
func TestMonthsWithoutTheirCommand(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens(), tells(engine.DoMonth, "month")))
	expect(t, f.Says("owner", "month"), "month", "")
	c := f.Talk("owner")
	c.In.Text = "finish october"
	if cmd, rest := c.Command(); cmd != nil && cmd.Name == engine.DoMonth && rest == "" {
		t.Errorf("%s %q", cmd.Name, rest)
	}
	bare := floor.New(t, floor.Of(twoScreens())).Talk("owner")
	bare.In.Text = "finish october"
	if cmd, _ := bare.Command(); cmd != nil {
		t.Errorf("%s is no command here", cmd.Name)
	}
}

// A view is not shown again by what is said in between; any other card is.
func TestBackToTheCard(t *testing.T) {
	for _, view := range []bool{false, true} {
		flow := twoScreens()
		flow.View, flow.Loses = view, func(*engine.Talk) bool { return false }
		f := floor.New(t, floor.Of(flow))
		f.Says("staff1", "move")
		c := f.Talk("staff1")
		c.BackTo()
		if (len(c.Replies) == 0) != view {
			t.Errorf("view %t: %d replies", view, len(c.Replies))
		}
	}
	c := floor.New(t, floor.Of(twoScreens())).Talk("staff1")
	if c.BackTo(); len(c.Replies) != 0 {
		t.Errorf("no card is open, and %d replies", len(c.Replies))
	}
}

// In help, the words that the platform's menu has too are those that are needed now and then.
func TestHelpSeldom(t *testing.T) {
	menu := tells(engine.DoHistory, "history")
	menu.Menu = 1
	plea := tells(engine.DoFaults, "faults")
	plea.Menu, plea.Plea = 2, true
	f := floor.New(t, floor.Of(menu, plea, tells(engine.DoDay, "day"), twoScreens()))
	said := f.Says("owner", "help")
	if !strings.Contains(said, "history") || strings.Contains(said, "day,") || strings.Contains(said, "faults") {
		t.Errorf("said\n%s", said)
	}
	expect(t, said, "Nothing for you now", "")
	f.Says("owner", "move")
	expect(t, f.Says("owner", "help"), "Write what you do", "Nothing for you now")
}
