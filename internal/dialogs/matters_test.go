package dialogs_test

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
)

// Each matter of the shop has a prefix and a ladder of its own; one that is not
// in the books is not open.
func TestOpenMatters(t *testing.T) {
	f := newFloor(t)
	c := f.Engine.Talk(chat.State{V: chat.StateFormat}, chat.Input{At: f.Now}, f.Facts("owner"))
	seen := map[any]bool{}
	for _, m := range f.Engine.OpenMatters() {
		if _, open := m.Began(c.Teller, 7); open || seen[m.Prefix] || seen[m.Task] || m.Tell == nil {
			t.Errorf("%s: open %t, seen %v", m.Prefix, open, seen)
		}
		seen[m.Prefix], seen[m.Task] = true, true
		if len(reminders.Ladder(f.Shop, m.Task)) == 0 {
			t.Errorf("%s climbs nothing", m.Prefix)
		}
	}
	if !seen[reminders.Ticks] || !seen[reminders.Fault] || !seen[reminders.Owed] {
		t.Errorf("seen %v", seen)
	}
}
