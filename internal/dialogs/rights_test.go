package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

func theEngine(t testing.TB) *engine.Engine {
	t.Helper()
	cat, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	return dialogs.New(cat)
}

// What each command does for each role: exactly those it is not for are told so,
// and nothing is begun for them.
func TestRolesAndCommands(t *testing.T) {
	n := 0
	for _, word := range floor.Words(theEngine(t)) {
		for _, role := range shop.Roles() {
			f := newFloor(t)
			f.Shop.People[0].Role = role
			got := f.Says("owner", word.Word)
			refused := got == "bot> That is not part of your role here ("+roleWord(role)+").\n"+
				"  Ask your manager, or write help to see what you can do.\n"
			if may := theEngine(t).Allows(role, word.Command); may == refused {
				t.Errorf("%s, %q: allowed %v, and the answer is\n%s", role, word.Word, may, got)
			}
			if refused && f.States[floor.ChatOf("owner")].Flow != "" {
				t.Errorf("%s, %q: a dialog was begun", role, word.Word)
			}
			n++
		}
	}
	if n < 4*20 {
		t.Fatalf("only %d pairs of role and command", n)
	}
}

func roleWord(r shop.Role) string { return string(r) }

// Whoever counts nothing is answered, too, when a count is typed at an open machine.
func TestCountOfABookkeeperIsAnswered(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200; [Confirm]")
	f.Shop.People[1].Role = shop.Bookkeeper
	got := f.Says("staff1", "12 fifties 60 twenties and 80 tens")
	if got == "" || strings.Contains(got, "Left in the boxes") {
		t.Errorf("answered with %q", got)
	}
}

// A role that changes while a dialog is open takes effect at the next tap.
func TestRoleAtTheMomentOfEffect(t *testing.T) {
	f := newFloor(t)
	f.Says("staff1", "open 40 150 200")
	f.Shop.People[1].Role = shop.Bookkeeper
	if got := f.Taps("staff1", "Confirm"); len(f.Entries) != 0 || f.States[floor.ChatOf("staff1")].Flow != "" {
		t.Errorf("a bookkeeper opened the machine:\n%s", got)
	}
	f.Shop.People[1].Role = shop.Staff
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.Shop.People[1].Role = shop.Bookkeeper
	before := len(f.Entries)
	if got := f.Taps("staff1", "All done"); len(f.Entries) != before {
		t.Errorf("a bookkeeper ticked the checklist:\n%s", got)
	}
}
