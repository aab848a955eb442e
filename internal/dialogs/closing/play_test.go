package closing_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// opened is the floor in the evening of a day that began with 40 fifties, 150
// twenties and 200 tens: €7,000.
func opened(t testing.TB) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]\n@2026-11-25 21:05")
	return f
}

// story ends with a message in which every wanted piece stands and no unwanted one.
type story struct{ name, script, want, not string }

func tell(t *testing.T, start func(testing.TB) *floor.Floor, stories []story) {
	t.Helper()
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			f := start(t)
			f.Expect(f.Play(s.script), s.want, s.not)
		})
	}
}

// last is the newest record of a kind; it fails the test when there is none.
func last(f *floor.Floor, kind books.Kind) books.Entry {
	f.T.Helper()
	for _, e := range slices.Backward(f.Entries) {
		if e.Kind == kind {
			return e
		}
	}
	f.T.Fatalf("no record of kind %s:\n%s", kind, f.Out.String())
	return books.Entry{}
}

// notes adds up the figures of a field by kind of note.
func notes(e books.Entry, field books.Field) books.Notes {
	n := books.Notes{}
	for _, x := range e.Figures {
		if x.Field == field {
			n.Plus(x.Face, x.Notes)
		}
	}
	return n
}

// heard collects what is sent from now on.
func heard(f *floor.Floor) *[]chat.Reply {
	var list []chat.Reply
	f.Check = func(r chat.Reply) { list = append(list, r) }
	return &list
}
