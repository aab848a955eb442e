package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/shop"
)

// Counted in the evening by one, figures typed in the next day by another: the
// owner reads who and when, and the bank's day is that of the count.
func TestLateFigures(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.Shop.Plan.EachClose = true
	f.Play("staff1: close 12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: [I must go]")
	f.At("2026-11-26 16:10")
	f.Play("staff2: finish\nstaff2: 28 90 120\nstaff2: none")
	note := f.Taps("staff2", "Confirm")
	for _, want := range []string{"Counted Wed 25 Nov, 21:05 by Ben", "finished Thu 26 Nov, 16:10 by "} {
		if !strings.Contains(note, want) {
			t.Errorf("the note does not say %q:\n%s", want, note)
		}
	}
	same := paidDay(t)
	if late, soon := f.Machine.Claims[0].On, same.Machine.Claims[0].On; late != soon || soon == shop.Date("") {
		t.Errorf("due %s, in time %s", late, soon)
	}
}

// A day is shown with its year when that is not this one, and not at all when
// it was before the first record.
func TestFloatBeforeFirstRecord(t *testing.T) {
	f := opened(t, "open 40 150 200")
	for text, want := range map[string]string{
		"float 30 november": "Sun 30 Nov 2025 is before my first record, which is of Wed 25 Nov.",
		"day 30 november":   "Sun 30 Nov 2025",
		"float today":       "at the end of Wed 25 Nov:",
	} {
		if out := f.Says("owner", text); !strings.Contains(out, want) {
			t.Errorf("%s:\n%s\nwant %s", text, out, want)
		}
	}
}

// A close that is taken back leaves the count and the slip: every message says
// so, and that finish is next.
func TestAfterUndoneClose(t *testing.T) {
	f := paidDay(t)
	undone := f.Says("staff1", "undo") + f.Taps("staff1", "Confirm")
	for _, c := range []struct{ who, text, want string }{
		{"staff1", "total 5180", "Write finish to go on"}, {"staff1", "status",
			"the closing of Wed 25 Nov. Write: finish"},
		{"owner", "day", "Counted, with printed figures. Not closed yet: write finish."},
	} {
		if out := f.Says(c.who, c.text); !strings.Contains(out, c.want) {
			t.Errorf("%s:\n%s\nwant %s", c.text, out, c.want)
		}
	}
	if !strings.Contains(undone, "Next, write: finish") {
		t.Errorf("undone:\n%s", undone)
	}
	if out := f.Says("staff1", "finish"); !strings.Contains(out, "[Use the slips entered before]") ||
		strings.Contains(out, "missing") {
		t.Errorf("finish:\n%s", out)
	}
}
