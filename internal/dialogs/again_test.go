package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs/floor"
)

// paidDay is a shop whose bank owes for one day.
func paidDay(t *testing.T) *floor.Floor {
	f := opened(t, "open 40 150 200")
	f.Play("staff1: close 12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: 28 90 120" +
		"\nstaff1: none\nstaff1: [Confirm]")
	return f
}

// The command again, with other words, is what holds: the card before must not
// be confirmed in its place.
func TestCommandAgainTakesNewWords(t *testing.T) {
	for _, c := range []struct{ first, again, shows, never string }{
		{"credit 1240 for wednesday", "credit 3000 for wednesday", "3,000", "1,240"},
		{"credit 1240 for wednesday", "credit 1000000000000", "I could not read \"1000000000000\"", "1,240"},
		{"debit 50", "debit 70", "70", "50 PLN"},
		{"closed 1 to 2 december", "closing at 15:00 today", "Closing at 15:00 today", "back to"},
		{"closed 1 to 2 december", "closed 30 february", "On which days?", "[Confirm]"},
		{"closed 1 to 2 december", "closing at 25", "When, and on which day?", "[Confirm]"},
	} {
		f := paidDay(t)
		f.Says("owner", c.first)
		out := f.Says("owner", c.again)
		if !strings.Contains(out, c.shows) || strings.Contains(out, c.never) {
			t.Errorf("%s, then %s:\n%s", c.first, c.again, out)
		}
	}
}

// Words that a dialog cannot take are said not to be taken.
func TestCommandAgainNotTaken(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.Play("staff1: close 12 60 80\nstaff1: none\nstaff1: none")
	if out := f.Says("staff1", "close the shop"); !strings.Contains(out, "I could not take in \"the shop\"") {
		t.Errorf("said\n%s", out)
	}
}

// A change of the plan that waits for a yes is not dropped without a word.
func TestPlanIsNotDropped(t *testing.T) {
	for _, c := range []struct{ first, then string }{
		{"hours mon-fri 8-20", "closed 24 to 27 december"},
		{"closed 24 to 27 december", "hours mon-fri 8-20"},
	} {
		f := newFloor(t)
		f.Says("owner", c.first)
		if out := f.Says("owner", c.then); !strings.Contains(out, "Leave") || strings.Contains(out, "[Confirm]") {
			t.Errorf("%s, then %s:\n%s", c.first, c.then, out)
		}
	}
}

// Days that were typed the wrong way round reach into the next year: the year
// is shown, and so long a time is asked back.
func TestLongClosedIsAskedBack(t *testing.T) {
	f := newFloor(t)
	out := f.Says("owner", "closed 2 to 1 december")
	if !strings.Contains(out, "Wed 1 Dec 2027") || !strings.Contains(out, "365 days") ||
		strings.Contains(out, "[Confirm]") {
		t.Fatalf("asked\n%s", out)
	}
	if out = f.Taps("owner", "Yes, 365 days"); !strings.Contains(out, "[Confirm]") {
		t.Errorf("after yes\n%s", out)
	}
	for text, want := range map[string]string{
		"closed 27 december to 3 january": "Sun 27 Dec to Sun 3 Jan 2027",
		"closed 1 december to 31 january": "Sun 31 Jan 2027",
	} {
		if out := newFloor(t).Says("owner", text); !strings.Contains(out, want) ||
			!strings.Contains(out, "[Confirm]") {
			t.Errorf("%s:\n%s", text, out)
		}
	}
}
