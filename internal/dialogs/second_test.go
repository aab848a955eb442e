package dialogs_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
)

// A second count that is ready after the first was closed, or taken back, is
// kept beside it, at whatever card its counter was meanwhile.
func TestSecondCountKept(t *testing.T) {
	const (
		meanwhile = "staff1: 28 80 120\nstaff1: none\nstaff1: [Confirm]\n"
		second    = "staff2: second count "
		undone    = "staff1: cancel\nstaff1: undo\nstaff1: [Confirm]\n"
		nothing   = "\nstaff2: none\nstaff2: none\nstaff2: [Confirm]\n"
	)
	for name, c := range map[string]struct{ script, want string }{
		"agrees":        {second + "12\n" + meanwhile + "staff2: 71 80" + nothing, "Both counts agree"},
		"differs":       {second + "12\n" + meanwhile + "staff2: 70 80" + nothing, "20s     71      70"},
		"at the choice": {second + "12 70 80" + nothing + meanwhile + "staff2: [Use my count]", "differ"},
		"taken back":    {second + "12\n" + undone + "staff2: 71 80" + nothing, "Yours is on record"}} {
		t.Run(name, func(t *testing.T) {
			f := opened(t, "open 40 150 200")
			f.Play("staff1: close 12 71 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]")
			out := f.Play(c.script)
			if !strings.Contains(out, c.want) {
				t.Errorf("want %q:\n%s", c.want, out)
			}
			last := f.Machine.Recent[len(f.Machine.Recent)-1]
			if last.Kind != "spot" || last.By != floor.People["staff2"] || !slices.Contains(last.Marks, books.Second) {
				t.Errorf("the last record is a %s with %v", last.Kind, last.Marks)
			}
		})
	}
}

// Nobody who counts a second time is told what the first closing came to, nor
// are they forgotten: the result comes with the end of their count.
func TestResultHeldBack(t *testing.T) {
	f := opened(t, "open 40 150 200")
	f.Play("staff1: close 12 71 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nowner: second count")
	if out := f.Play("staff1: 28 74 120\nstaff1: none\nstaff1: [Confirm]"); strings.Contains(out, "others> ") {
		t.Errorf("told during the second count:\n%s", out)
	}
	if out := f.Says("owner", "cancel"); !strings.Contains(out, "5 missing") {
		t.Errorf("not told after it:\n%s", out)
	}
}
