package dialogs_test

import (
	"testing"

	"shopfloat/internal/chat"
)

// A message changed later is no answer: the person is told so, and the question stays open.
func TestEditedIsNoAnswer(t *testing.T) {
	f := newFloor(t)
	f.Says("owner", "open")
	f.Says("owner", "40")
	const want = "bot> I take what you wrote first. Type it again to change it.\n"
	if got := f.Step("owner", chat.Input{Kind: chat.Edited}, "owner> (edited)"); got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	f.Says("owner", "150")
	f.Says("owner", "200")
	f.Taps("owner", "Confirm")
	if len(f.Entries) != 1 || f.Entries[0].Figures[0].Notes != 40 {
		t.Errorf("recorded %+v", f.Entries)
	}
}
