package engine_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

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
		f := floor.New(t, floor.Of(telling(engine.DoFloat, "float"), telling(engine.DoMove, "move")))
		if got := f.Says("staff1", said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}

// Who may not is told so by role.
func TestCommandNotAllowed(t *testing.T) {
	only := telling(engine.DoFloat, "float")
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
	expect(t, f.Says("staff1", "open 40"), "with: 40.|opening?", "One moment")
	loses = true
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "open 40"),
		"One moment.|in the middle of moving notes|[Go on with moving notes]|[Leave moving notes]", "opening?")
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
	expect(t, f.Says("staff1", "open"), "One moment.", "opening?")
}

// What only tells leaves the dialog as it is, and its card is shown again.
func TestTellingWithinADialog(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens(), telling(engine.DoFloat, "float")))
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
	long := strings.Repeat(" word", 12)
	plea, answers := telling(engine.DoFaults, "faults"), telling(engine.DoFloat, "float")
	plea.Plea, answers.Answers = true, true
	for _, x := range []struct {
		free       bool
		said, want string
	}{
		{false, "hm", "heard hm"},
		{false, "history", "history \n"},
		{false, "history 20", "history 20"},
		{false, "history" + long, "history word"},
		{false, "history" + long + " more", "heard history word"},
		{false, "faults", "faults \n"},
		{false, "faults 20", "heard faults 20"},
		{false, "float", "heard float"},
		{true, "hm", "heard hm"},
		{true, "history", "history \n"},
		{true, "history 20", "heard history 20"},
	} {
		flow := hearing(func(string) bool { return true }, func(s *engine.Screen) { s.Free = x.free })
		f := floor.New(t, floor.Of(flow, telling(engine.DoHistory, "history"), plea, answers))
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
	flow := floor.MadeUp("ask", screens{
		"ask": {Ask: func(*engine.Talk) *engine.Card { return &engine.Card{Body: []chat.Block{{Text: "how?"}}} },
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
	if booked != 0 {
		t.Errorf("booked %d times by typing", booked)
	}
	ask := flow.Screens["ask"]
	ask.Free = true
	ask.Answer = func(c *engine.Talk, s string) bool { c.First("heard " + s); return true }
	flow.Screens["ask"] = ask
	f := floor.New(t, floor.Of(flow))
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

// manyCommands are commands that help lists on its further pages.
func manyCommands(n int) (list []engine.Declaration) {
	names := []string{engine.DoOpen, engine.DoTopUp, engine.DoSwap, engine.DoLevel, engine.DoTest,
		engine.DoFound,
		engine.DoClose, engine.DoFinish, engine.DoSettle, engine.DoPrinted, engine.DoEarlier, engine.DoStatus,
		engine.DoHistory, engine.DoUndo, engine.DoFloat, engine.DoDay, engine.DoMonth, engine.DoExport,
		engine.DoOwed,
		engine.DoCredit, engine.DoDebit}
	for _, name := range names[:n] {
		list = append(list, telling(name, name))
	}
	return list
}

// Help shows what is asked for most, and the rest ten at a time; a page behind
// the last is the last, and what is no page is the first message.
func TestHelpPages(t *testing.T) {
	for n, pages := range map[int]int{1: 1, 8: 1, 9: 2, 18: 2, 19: 3} { // beside help and my code
		f := floor.New(t, floor.Of(append(manyCommands(n), twoScreens())...))
		expect(t, f.Says("staff1", "help"), "What I can do.|move  change, bank, safe|For more, write: help more",
			"open ")
		seen := 0
		for page := 1; page <= pages+1; page++ {
			said := f.Says("staff1", fmt.Sprintf("help %d", page))
			rows := strings.Count(said, "\n") - 2
			if page <= pages {
				seen += rows
			}
			if rows > 10 || rows < 1 {
				t.Errorf("%d commands, page %d has %d:\n%s", n, page, rows, said)
			}
			if next := fmt.Sprintf("write: help %d", page+1); strings.Contains(said, next) != (page < pages) {
				t.Errorf("%d commands, page %d leads on:\n%s", n, page, said)
			}
			if page >= pages {
				expect(t, said, "You can type counts in many ways", "For more")
			}
		}
		if seen != n+2 {
			t.Errorf("of %d commands %d are listed", n+2, seen)
		}
		if f.Says("staff1", "help more") != f.Says("staff1", "help 1") {
			t.Error("more is not the first of the further pages")
		}
		if f.Says("staff1", "help 0") != f.Says("staff1", "help") ||
			f.Says("staff1", "help -1") != f.Says("staff1", "help") {
			t.Error("what is no page is not the first message")
		}
	}
}

// Help shows nobody what is not for them.
func TestHelpByRole(t *testing.T) {
	secret := telling(engine.DoFloat, "float")
	secret.Role, secret.Help = access.Managing, engine.HelpOften
	never := telling(engine.DoOpen, "open")
	never.Help = engine.HelpNever
	f := floor.New(t, floor.Of(secret, never, twoScreens()))
	expect(t, f.Says("owner", "help"), "float|move", "open")
	expect(t, f.Says("staff1", "help"), "move", "float|open")
	expect(t, f.Says("owner", "help more"), "my code", "open")
}
