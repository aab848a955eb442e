package dialogs_test

import (
	"testing"

	"shopfloat/internal/chat"
)

// A message changed later is no answer: the person is told so, and the question stays open.
func TestEditedIsNoAnswer(t *testing.T) {
	f := newFloor(t)
	f.says("owner", "open")
	f.says("owner", "40")
	const want = "bot> I take what you wrote first. Type it again to change it.\n"
	if got := f.step("owner", chat.Input{Kind: chat.Edited}, "owner> (edited)"); got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	f.says("owner", "150")
	f.says("owner", "200")
	f.taps("owner", "Confirm")
	if len(f.entries) != 1 || f.entries[0].Figures[0].Notes != 40 {
		t.Errorf("recorded %+v", f.entries)
	}
}
