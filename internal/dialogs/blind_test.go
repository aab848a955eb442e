package dialogs_test

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// blindCases lead a counter to each screen of each count. Figures are always
// typed with the same words, so that only what was loaded differs.
func blindCases() map[string]blindCase {
	const (
		nothing = "\nstaff1: none\nstaff1: none"
		found   = "staff1: found 2x20\nstaff1: [Box for]\nstaff1: [Confirm]\n"
		second  = "staff1: close 12 60 80" + nothing + "\nstaff1: [Confirm]\nstaff2: second count"
		finish  = "staff1: close 12 60 80" + nothing + "\nstaff1: [Confirm]\n" +
			"staff1: [I must go]\nstaff1: finish\nstaff1: 28 75 120\nstaff1: none\nstaff1: [Count again]"
		visit = "staff1: visit\nstaff1: [Announced]\nstaff1: [Skip]"
	)
	return map[string]blindCase{
		"close":            {at: "close left", script: "staff1: close"},
		"counting":         {at: "close left", script: "staff1: close\nstaff1: 12"},
		"at the tray":      {at: "close count-review", script: "staff1: close 12 60 80"},
		"asked what is in": {at: "close findings", script: found + "staff1: close 12 60 80\nstaff1: 20s 2"},
		"asked what else": {at: "close found", script: "staff1: close 12 60 80\nstaff1: none\nstaff1: " +
			"[Change]\nstaff1: [Found notes]"},
		"before confirming": {at: "close count-review", script: "staff1: close 12 60 80" + nothing},
		"changing": {
			at:     "close change",
			script: "staff1: close 12 60 80" + nothing + "\nstaff1: [Change]",
		},
		"count now":        {at: "spot left", script: "staff1: count now"},
		"count now, read":  {at: "spot count-review", script: "staff1: count now 12 60 80" + nothing},
		"not closed":       {at: "open inside", script: "@2026-11-26 06:40\nstaff1: open"},
		"not closed, tray": {at: "open inside-tray", script: "@2026-11-26 06:40\nstaff1: open\nstaff1: 12 60 80"},
		"finish, again":    {at: "finish left", script: finish, unsettled: true},
		"finish, read": {
			at:        "finish count-review",
			script:    finish + "\nstaff1: 12 60 80" + nothing,
			unsettled: true,
		},
		"second count": {at: "second left", script: second, by: "staff2"},
		"comparing": {at: "second compare", by: "staff2",
			script: second + " 12 59 80\nstaff2: none\nstaff2: none\nstaff2: [Confirm]"},
		"engineer at the door": {at: "visit visit-left", script: visit},
		"before the engineer": {
			at:     "visit begin",
			script: visit + "\nstaff1: 12 60 80\nstaff1: none\nstaff1: [Skip",
		},
	}
}

type blindCase struct {
	at        string // dialog and screen
	script    string
	by        string // who counts a second time, beside whoever goes on to the result; else staff1 counts
	unsettled bool   // no slip was entered before
}

// While somebody counts, what anybody sees must not depend on what should be
// there. Two shops that loaded different numbers of notes go through the same
// messages during the count; every word they get has to be the same.
func TestCountIsBlind(t *testing.T) {
	for name, k := range blindCases() {
		t.Run(name, func(t *testing.T) {
			seeing := []string{k.by} // the first counter may see the result meanwhile, the second must not
			if k.by == "" {
				k.by, seeing = "staff1", []string{"owner", "staff1", "staff2"}
			}
			checks.Rapid(t, 6, 80, 20_000, func(rt *rapid.T) { k.check(t, rt, seeing) })
		})
	}
}

func (k blindCase) check(t *testing.T, rt *rapid.T, seeing []string) {
	a, b := opened(t, "open 40 150 200"), opened(t, "open 41 139 215")
	if !k.unsettled && rapid.Bool().Draw(rt, "settled") {
		a.Play("staff2: settle 28 90 120\nstaff2: none\nstaff2: [Confirm]")
		b.Play("staff2: settle 29 79 135\nstaff2: none\nstaff2: [Confirm]")
	}
	for _, f := range []*floor.Floor{a, b} {
		f.Play(k.script)
		st := f.States[floor.ChatOf(k.by)]
		if at := st.Flow + " " + st.Step; at != k.at || !stillBlind(f, k.by) {
			rt.Fatalf("at %q, want %q; blind: %v\n%s", at, k.at, stillBlind(f, k.by), f.Out.String())
		}
	}
	for range rapid.IntRange(1, 12).Draw(rt, "steps") {
		who := rapid.SampledFrom(seeing).Draw(rt, "who")
		text := rapid.SampledFrom(blindTexts).Draw(rt, "text")
		if !stillBlind(a, k.by) {
			return
		}
		x, y := a.Says(who, text), b.Says(who, text)
		if !stillBlind(a, k.by) {
			return // nothing was counted yet, so the count gave way to what was asked for
		}
		if x != y {
			rt.Fatalf("%s says %q and sees\n%s\nor\n%s\n%s", who, text, x, y, a.Out.String())
		}
	}
}

// Typed only: a tap could confirm the count, and then it is in.
var blindTexts = []string{
	"status", "history", "undo", "level 30 100 150", "level", "30 100 150", "12", "60", "3000", "close", "open",
	"help",
	"printed 6900", "top up 20x50", "count now", "second count", "20s 40", "none", "what is in it",
	"cancel please", "settle",
	"owed", "float", "day", "month", "export", "overview", "load", "cash plan", "faults", "correct",
	"credit 100",
	"credit 4400 for today", "debit 50", "match", "history today", "today", "yes", "owed please",
}

func opened(t *testing.T, open string) *floor.Floor {
	f := newFloor(t)
	f.Play(
		"staff1: " + open + "\nstaff1: [Confirm]\nstaff1: [All done]\nstaff1: [With a device]\n@2026-11-25 21:05",
	)
	return f
}

func stillBlind(f *floor.Floor, who string) bool {
	a, ok := f.States[floor.ChatOf(who)].Under(floor.ChatOf(who), floor.People[who])
	return ok && a.Blind
}

// After the count is in, the figures are shown again.
func TestFiguresComeBack(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.Play("staff1: close 12 60 80\nstaff1: none\nstaff1: none")
	if out := f.Says("owner", "history"); strings.Contains(out, "150") {
		t.Fatalf("history shows the load during the count:\n%s", out)
	}
	f.Play("staff1: [Confirm]")
	if out := f.Says("owner", "history"); !strings.Contains(out, "150 x 20s") {
		t.Fatalf("history does not show the load after the count:\n%s", out)
	}
}

// A slip entered before the count says what the bank owes, and with it what was
// paid out: nobody is told while somebody counts, also in a dialog begun before.
func TestOwedIsSealed(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.Play("staff1: settle 28 90 120\nstaff1: none\nstaff1: [Confirm]")
	if out := f.Says("owner", "owed"); !strings.Contains(out, "4,400") {
		t.Fatalf("owed before the count:\n%s", out)
	}
	f.Says("owner", "credit 100 for today")
	f.Says("staff1", "close")
	if out := f.Taps("owner", "More"); strings.Contains(out, "4,4") || !strings.Contains(out, "being counted") {
		t.Errorf("the card begun before:\n%s", out)
	}
	for _, text := range []string{"owed", "credit 100 for today", "debit 10", "correct", "match"} {
		if out := f.Says("owner", text); strings.Contains(out, "4,4") {
			t.Errorf("%s during the count:\n%s", text, out)
		}
	}
}

// twins has one person count two machines that were loaded otherwise, with the same words.
// It gives the first words that differ before the count is in; empty: none do.
func twins(rt *rapid.T, t *testing.T, e *engine.Engine) string {
	a, b := floor.With(t, e), floor.With(t, e)
	for f, open := range map[*floor.Floor]string{a: "open 40 150 200", b: "open 41 139 215"} {
		f.Trusts = true
		f.Play("staff1: " + open + "; [Confirm]\n@2026-11-25 21:05\nstaff1: close")
	}
	counts := func() string { return strconv.Itoa(rapid.IntRange(0, 220).Draw(rt, "notes")) }
	for range rapid.IntRange(1, 8).Draw(rt, "steps") {
		text := rapid.SampledFrom([]string{counts(), counts() + " " + counts() + " " + counts(), "close 0 0 0",
			"back",
			"none", "12 0 80", "20x" + counts(), "go on", "it did", "status"}).Draw(rt, "text")
		if x, y := a.Says("staff1", text), b.Says("staff1", text); x != y {
			return x + "\nor\n" + y
		}
		if !stillBlind(a, "staff1") {
			return ""
		}
	}
	return ""
}

// What is typed in a count is doubted by nothing but itself, and a doubt that peeks is
// caught by the same plays.
func TestDoubtsAreBlind(t *testing.T) {
	checks.Rapid(t, 50, 300, 100_000, func(rt *rapid.T) {
		if x := twins(rt, t, sharedEngine(t)); x != "" {
			rt.Fatal(x)
		}
	})
	peeks := theEngine(t).Guide(floor.Guiding(t))
	s := peeks.Flows[engine.DoClose].Screens["left"]
	answer := s.Answer
	s.Answer = func(c *engine.Talk, text string) bool {
		if n, err := strconv.ParseInt(text, 10, 64); err == nil && n > c.M.Current().Boxes[1].Held {
			c.First("That is more than was put in.")
		}
		return answer(c, text)
	}
	peeks.Flows[engine.DoClose].Screens["left"] = s
	gen := rapid.Custom(func(rt *rapid.T) string { return twins(rt, t, peeks) })
	for seed := range 2000 {
		if gen.Example(seed) != "" {
			return
		}
	}
	t.Error("a doubt that peeks is not caught")
}
