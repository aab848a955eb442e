package dialogs_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// While somebody counts, what anybody sees must not depend on what should be
// there. Two shops that loaded different numbers of notes go through the same
// messages during the count; every word they get has to be the same.
func TestCountIsBlind(t *testing.T) {
	begin := map[string]string{
		"close": "staff1: close", "count now": "staff1: count now",
		"counting":          "staff1: close\nstaff1: 12",
		"at the tray":       "staff1: close 12 60 80",
		"before confirming": "staff1: close 12 60 80\nstaff1: none\nstaff1: none",
	}
	for name, script := range begin {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(rt *rapid.T) {
				a, b := opened(t, "open 40 150 200"), opened(t, "open 41 139 215")
				if rapid.Bool().Draw(rt, "settled") {
					a.play("staff2: settle 28 90 120\nstaff2: none\nstaff2: [Confirm]")
					b.play("staff2: settle 29 79 135\nstaff2: none\nstaff2: [Confirm]")
				}
				a.play(script)
				b.play(script)
				for range rapid.IntRange(1, 12).Draw(rt, "steps") {
					who := rapid.SampledFrom([]string{"owner", "staff1", "staff2"}).Draw(rt, "who")
					text := rapid.SampledFrom(blindTexts).Draw(rt, "text")
					if !stillBlind(a) {
						return
					}
					if x, y := a.says(who, text), b.says(who, text); x != y {
						rt.Fatalf("%s says %q and sees\n%s\nor\n%s\n%s", who, text, x, y, a.out.String())
					}
				}
			})
		})
	}
}

// Typed only: a tap could confirm the count, and then it is in.
var blindTexts = []string{
	"status", "history", "undo", "level 30 100 150", "level", "30 100 150", "12", "60", "3000", "close", "open", "help",
	"printed 6900", "top up 20x50", "count now", "second count", "20s 40", "none", "what is in it", "cancel please", "settle",
	"owed", "float", "day", "month", "export", "overview", "load", "cash plan", "faults", "correct", "credit 100",
	"credit 4400 for today", "debit 50", "match", "history today", "today", "yes", "owed please",
}

func opened(t *testing.T, open string) *floor {
	f := newFloor(t)
	f.play("staff1: " + open + "\nstaff1: [Confirm]\nstaff1: [All done]\nstaff1: [With a device]\n@2026-11-25 21:05")
	return f
}

func stillBlind(f *floor) bool {
	a, ok := f.states[chatOf("staff1")].Under(chatOf("staff1"), 2)
	return ok && a.Blind
}

// After the count is in, the figures are shown again.
func TestFiguresComeBack(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.play("staff1: close 12 60 80\nstaff1: none\nstaff1: none")
	if out := f.says("owner", "history"); strings.Contains(out, "150") {
		t.Fatalf("history shows the load during the count:\n%s", out)
	}
	f.play("staff1: [Confirm]")
	if out := f.says("owner", "history"); !strings.Contains(out, "150 x 20s") {
		t.Fatalf("history does not show the load after the count:\n%s", out)
	}
}

// A slip entered before the count says what the bank owes, and with it what was
// paid out: nobody is told while somebody counts, also in a dialog begun before.
func TestOwedIsSealed(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.play("staff1: settle 28 90 120\nstaff1: none\nstaff1: [Confirm]")
	if out := f.says("owner", "owed"); !strings.Contains(out, "4,400") {
		t.Fatalf("owed before the count:\n%s", out)
	}
	f.says("owner", "credit 100 for today")
	f.says("staff1", "close")
	if out := f.taps("owner", "What"); strings.Contains(out, "4,4") || !strings.Contains(out, "counting") {
		t.Errorf("the card begun before:\n%s", out)
	}
	for _, text := range []string{"owed", "credit 100 for today", "debit 10", "correct", "match"} {
		if out := f.says("owner", text); strings.Contains(out, "4,4") {
			t.Errorf("%s during the count:\n%s", text, out)
		}
	}
}
