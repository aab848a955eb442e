package trouble_test

import (
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// morning is the floor at 06:40 of a day that has begun.
func morning(t testing.TB) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	play(f, "staff1: open 40 150 200; [Confirm]")
	return f
}

// play runs lines of steps like "staff1: notes are stuck; [Smoke]" and gives what
// the last of them led to.
func play(f *floor.Floor, script string) (last string) {
	f.T.Helper()
	for line := range strings.Lines(script) {
		name, steps, named := strings.Cut(strings.TrimSpace(line), ": ")
		if !named {
			last = f.Play(name)
			continue
		}
		for step := range strings.SplitSeq(steps, "; ") {
			last = f.Play(name + ": " + step)
		}
	}
	return last
}

// says fails unless each piece of want, set apart by |, stands in a text, and
// none of not does.
func says(t *testing.T, f *floor.Floor, text, want, not string) {
	t.Helper()
	for w := range strings.SplitSeq(want, "|") {
		if !strings.Contains(text, w) {
			t.Errorf("%q is missing in\n%s\nafter\n%s", w, text, f.Out.String())
		}
	}
	for n := range strings.SplitSeq(not, "|") {
		if n != "" && strings.Contains(text, n) {
			t.Errorf("%q should not stand in\n%s", n, text)
		}
	}
}

// story ends with a message in which every wanted piece stands and no unwanted one.
type story struct{ name, script, want, not string }

func tell(t *testing.T, stories []story) {
	t.Helper()
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			f := morning(t)
			says(t, f, play(f, s.script), s.want, s.not)
		})
	}
}

// fault is the newest incident.
func fault(f *floor.Floor) *books.Fault {
	f.T.Helper()
	if len(f.Machine.Faults) == 0 {
		f.T.Fatalf("no incident:\n%s", f.Out.String())
	}
	return &f.Machine.Faults[len(f.Machine.Faults)-1]
}
