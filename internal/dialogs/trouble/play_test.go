package trouble_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// morning is the floor at 06:40 of a day that has begun.
func morning(t testing.TB) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]")
	return f
}

// story ends with a message in which every wanted piece stands and no unwanted one.
type story struct{ name, script, want, not string }

func tell(t *testing.T, stories []story) {
	t.Helper()
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			f := morning(t)
			f.Expect(f.Play(s.script), s.want, s.not)
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
