package dialogs_test

import (
	"strings"
	"testing"
)

// A slip that is in twice is named before Confirm and can be left out. Worked
// by hand: 40, 150 and 200 notes were put in; the closing slip of 28, 79 and 120
// notes, which is EUR 4,180, has all earlier ones in it.
func TestSlipTwice(t *testing.T) {
	settle := func(figures string) string {
		return "staff1: settle " + figures + "\nstaff1: none\nstaff1: [Confirm]\n"
	}
	total := func(paid string) string {
		return "staff1: settle total " + paid + "\nstaff1: 0\nstaff1: [Confirm]\n"
	}
	one, two := settle("10 30 40"), settle("10 30 40")+settle("5 10 20")
	const all, rest = "28 79 120\nstaff1: none", "18 49 80\nstaff1: none"
	for name, c := range map[string]struct {
		before, count, slip string
		button              string // none: nothing is offered
		then                string // after it was left out
	}{
		"fits exactly":         {one, "12 71 80", all, "Leave out", "It balances"},
		"all of two":           {two, "12 71 80", all, "Leave the earlier slips", "It balances"},
		"only the second":      {two, "12 71 80", rest, "Leave out 21:05, €650", "It balances"},
		"below nothing":        {settle("28 78 120"), "12 71 79", all, "Leave out", "1 missing"},
		"nearly":               {one, "12 71 79", all, "Leave out", "1 missing"},
		"totals only":          {total("1500"), "12 71 80", "total 4180\nstaff1: 0", "Leave out", "It balances"},
		"another difference":   {one, "12 66 80", rest, "", ""},
		"each slip by itself":  {one, "12 71 80", rest, "", ""},
		"no slip but this one": {"", "12 61 80", all, "", ""},
		"totals, nothing fits": {total("1500"), "12 71 80", "total 2000\nstaff1: 0", "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			f := opened(t, "open 40 150 200")
			f.Play(c.before + "staff1: close " + c.count + "\nstaff1: none\nstaff1: none\nstaff1: [Confirm]")
			out := f.Play("staff1: " + c.slip)
			if named := strings.Contains(out, "seem to be in twice"); named != (c.button != "") {
				t.Fatalf("named: %v\n%s", named, out)
			}
			if c.button == "" {
				if strings.Contains(out, "Leave ") {
					t.Errorf("offered all the same:\n%s", out)
				}
				return
			}
			f.Taps("staff1", c.button)
			if out = f.Taps("staff1", "Yes, leave it out"); !strings.Contains(out, c.then) {
				t.Errorf("after it was left out:\n%s", out)
			}
			f.Taps("staff1", "Confirm")
			if owed := f.Machine.ByBank().String(); owed != "4180" && c.slip[:2] != "18" {
				t.Errorf("the bank owes %s, want 4180", owed)
			}
		})
	}
}
