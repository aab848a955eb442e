package dialogs_test

import (
	"strings"
	"testing"
)

// A second count that is ready after the first was closed, or taken back, is
// kept beside it, at whatever card its counter was meanwhile.
func TestSecondCountKept(t *testing.T) {
	const meanwhile = "staff1: 28 80 120\nstaff1: none\nstaff1: [Confirm]\n"
	for name, c := range map[string]struct{ script, want string }{
		"agrees": {"staff2: second count 12\n" + meanwhile + "staff2: 71 80\nstaff2: none\nstaff2: none\nstaff2: [Confirm]",
			"Both counts agree"},
		"differs": {"staff2: second count 12\n" + meanwhile + "staff2: 70 80\nstaff2: 10x1\nstaff2: none\nstaff2: [Confirm]",
			"20s     71      70"},
		"at the choice": {"staff2: second count 12 70 80\nstaff2: none\nstaff2: none\nstaff2: [Confirm]\n" + meanwhile +
			"staff2: [Use my count]", "The two counts differ"},
		"taken back": {"staff2: second count 12\nstaff1: cancel\nstaff1: undo\nstaff1: [Confirm]\n" +
			"staff2: 71 80\nstaff2: none\nstaff2: none\nstaff2: [Confirm]", "Yours is on record"},
	} {
		t.Run(name, func(t *testing.T) {
			f := opened(t, "open 40 150 200")
			f.play("staff1: close 12 71 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]")
			out := f.play(c.script)
			if !strings.Contains(out, c.want) {
				t.Errorf("want %q:\n%s", c.want, out)
			}
			last := f.machine.Recent[len(f.machine.Recent)-1]
			if last.Kind != "spot" || last.By != people["staff2"] || len(last.Marks) == 0 || last.Marks[0] != "second" {
				t.Errorf("the last record is a %s with %v", last.Kind, last.Marks)
			}
		})
	}
}

// Nobody who counts a second time is told what the first closing came to, nor
// are they forgotten: the result comes with the end of their count.
func TestResultHeldBack(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.play("staff1: close 12 71 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nowner: second count")
	if out := f.play("staff1: 28 74 120\nstaff1: none\nstaff1: [Confirm]"); strings.Contains(out, "others> ") {
		t.Errorf("told during the second count:\n%s", out)
	}
	if out := f.says("owner", "cancel"); !strings.Contains(out, "5 missing") {
		t.Errorf("not told after it:\n%s", out)
	}
}
