package setup_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dialogs/setup"
)

// "Back" that is typed at the list of machines leads nowhere that is not there.
func TestBackAtTheMachines(t *testing.T) {
	f := floor.New(t, floor.Of(setup.SwitchFlow()))
	other := *f.Shop
	other.ID, other.Name = 2, "Corner"
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.Sites = func() []chat.Site {
			return []chat.Site{{Shop: f.Shop, Machine: f.Machine}, {Shop: &other, Machine: books.New(9)}}
		}
	}
	f.Says("owner", "switch")
	second := func(choice string) bool { return strings.HasPrefix(choice, "s-2.") }
	said := f.Says("owner", "back")
	if at := f.State("owner").Step; at != "which" || !slices.ContainsFunc(f.Choices("owner"), second) {
		t.Errorf("at %q: %v\n%s", at, f.Choices("owner"), said)
	}
}
