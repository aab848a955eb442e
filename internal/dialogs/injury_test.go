package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
)

// Words of an injury win in every dialog; the answer has the number to ring and
// asks nothing, and no guide is begun.
func TestInjuryIsAnsweredFirst(t *testing.T) {
	for _, before := range []string{"", "staff1: close 12", "staff1: notes are stuck"} {
		for _, text := range []string{
			"i cut my finger", "finger trapped in machine", "call ambulance", "the machine fell on me",
			"customer fainted",
		} {
			f := newFloor(t)
			f.Play(openDay + before)
			st, n := f.States[floor.ChatOf("staff1")], len(f.Entries)
			back := f.Says("staff1", text)
			if !strings.HasPrefix(back, "bot> Somebody is hurt") || !strings.Contains(back, "112") ||
				strings.Contains(back, "?") || strings.Count(back, "bot") != 2 || strings.Contains(back, "[") ||
				!strings.Contains(back, "bot@others> Please look now: Ben wrote at 06:40.\n") {
				t.Errorf("%q after %q:\n%s", text, before, back)
			}
			now := f.States[floor.ChatOf("staff1")]
			if now.Flow != st.Flow || now.Step != st.Step || len(f.Entries) != n {
				t.Errorf("%q after %q: %s/%s, %d records", text, before, now.Flow, now.Step, len(f.Entries)-n)
			}
		}
	}
}

// A message that is dropped unread still gets first aid, and a robbery comes first.
func TestInjuryBesideOtherThings(t *testing.T) {
	f := newFloor(t)
	back := f.Step("staff1", chat.Input{Kind: chat.Secret, Text: chat.Hurt}, "(dropped)")
	if !strings.Contains(back, "Somebody is hurt") {
		t.Errorf("dropped unread:\n%s", back)
	}
	if back := f.Says("staff1", "man with a gun, my colleague is hurt"); !strings.Contains(back, "Do as told.") {
		t.Errorf("a robbery:\n%s", back)
	}
}
