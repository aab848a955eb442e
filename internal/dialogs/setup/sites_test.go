package setup_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dialogs/setup"
	"shopfloat/internal/shop"
)

// places lets the owner and staff look at the machine of the shop and at sites beside.
func places(f *floor.Floor, beside ...chat.Site) {
	f.Knows = func(facts *chat.Facts) {
		own := chat.Site{Shop: f.Shop, Person: facts.Person, Machine: f.Machine}
		facts.Ask.Sites = func() []chat.Site { return append([]chat.Site{own}, beside...) }
	}
}

// another is a shop more, with a machine that nothing is known of.
func another(f *floor.Floor, id shop.ID, name string) chat.Site {
	other := *f.Shop
	other.ID, other.Name = id, name
	other.Machines = []shop.Machine{f.Shop.Machines[0]}
	other.Machines[0].ID = shop.MachineID(id * 10)
	return chat.Site{Shop: &other, Person: f.Shop.People[0], Machine: books.New(other.Machines[0].ID)}
}

// hall adds a second machine to the shop.
func hall(f *floor.Floor) chat.Site {
	m := f.Shop.Machines[0]
	m.ID, m.Name = 2, "Hall"
	f.Shop.Machines = append(f.Shop.Machines, m)
	return chat.Site{Shop: f.Shop, Person: f.Shop.People[0], Machine: books.New(2)}
}

// "Back" that is typed at the list of machines leads out of it, as nothing is lost.
func TestBackAtTheMachines(t *testing.T) {
	f := floor.New(t, floor.Of(setup.SwitchFlow()))
	places(f, another(f, 2, "Corner"))
	f.Says("owner", "switch")
	said := f.Says("owner", "back")
	if at := f.State("owner").Step; at != "" || !strings.Contains(said, "Nothing was changed") {
		t.Errorf("at %q: %v\n%s", at, f.Choices("owner"), said)
	}
}

// The chat turns to another machine, and to another shop, which it names; a
// place that is not in the list any more is none.
func TestSwitch(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Says("owner", "switch"), "There is only Example corner shop.", "")
	places(f, hall(f), another(f, 2, "Harbour"))
	f.Expect(f.Says("owner", "switch"),
		"[Example corner shop, Cash machine]|[Example corner shop, Hall]|[Harbour]", "")
	f.Expect(f.Taps("owner", "Example corner shop, Hall"), "Now: Example corner shop, Hall.", "")
	if f.State("owner").Machine != 2 || f.Last.Turn != 0 {
		t.Errorf("turned to %d of shop %d", f.State("owner").Machine, f.Last.Turn)
	}
	f.Says("owner", "switch")
	f.Expect(f.Chooses("owner", "s-7.1"), "That button does not work any more.", "")
	if said := f.Taps("owner", "Harbour"); !strings.Contains(said, "Now: Harbour.") || f.Last.Turn != 2 ||
		f.State("owner").Machine != 20 {
		t.Errorf("turned to %d of shop %d:\n%s", f.State("owner").Machine, f.Last.Turn, said)
	}
	fresh := chat.Site{Shop: &shop.Shop{ID: 3}, Person: f.Shop.People[0]}
	places(f, fresh)
	f.Says("owner", "switch")
	if f.Expect(f.Taps("owner", "New shop, not set up"), "Now: New shop", ""); f.Last.Turn != 3 {
		t.Errorf("turned to %d", f.Last.Turn)
	}
	f.Knows = func(facts *chat.Facts) { facts.Ask.Sites = nil }
	f.Expect(f.Says("owner", "switch"), "There is only", "")
}

// Where somebody works at several machines and never said at which, the first
// thing to do there asks, and goes on there; another shop is turned to, and a tap goes on.
func TestWhichMachine(t *testing.T) {
	f := floor.New(t, dialogs.New)
	places(f, hall(f), another(f, 2, "Harbour"))
	if said := f.Says("staff1", "open 40 150 200"); !strings.Contains(said, "Which one?") {
		t.Fatalf("not asked:\n%s", said)
	}
	said := f.Taps("staff1", "Example corner shop, Hall")
	f.Expect(said, "Opening of Wed 25 Nov, Example corner shop, Hall", "")
	if f.State("staff1").Flow != engine.DoOpen || f.State("staff1").Machine != 2 {
		t.Errorf("begun %q at %d:\n%s", f.State("staff1").Flow, f.State("staff1").Machine, said)
	}
	f.Says("staff2", "open 40 150 200")
	said = f.Taps("staff2", "Harbour")
	if f.Expect(said, "[Go on with opening]", "How many"); f.Last.Turn != 2 {
		t.Errorf("turned to shop %d", f.Last.Turn)
	}
}

// Six places stand on a page of the list.
func TestManyPlaces(t *testing.T) {
	f := floor.New(t, dialogs.New)
	var list []chat.Site
	for id := range shop.ID(7) {
		list = append(list, another(f, id+2, fmt.Sprintf("Shop %d", id+2)))
	}
	places(f, list...)
	f.Says("owner", "switch")
	if n := len(f.Choices("owner")); n != 6+2 { // Next ones, More
		t.Errorf("%d buttons: %v", n, f.Choices("owner"))
	}
	if f.Taps("owner", "Next"); !slices.Contains(f.Choices("owner"), "s-8.80") ||
		slices.Contains(f.Choices("owner"), "s-2.20") {
		t.Errorf("the next page: %v", f.Choices("owner"))
	}
}

// An overview tells how each machine stands: what is inside at most, the last
// closing, what is overdue; nothing of one that is being counted.
func TestOverview(t *testing.T) {
	f := floor.New(t, dialogs.New)
	site := another(f, 2, "Harbour")
	counted := another(f, 3, "Pier")
	staffOnly := another(f, 4, "Elsewhere")
	staffOnly.Person.Role = shop.Staff
	fresh := chat.Site{Shop: &shop.Shop{ID: 5}, Person: f.Shop.People[0]}
	f.Play(`
		@2026-11-24 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-24 21:05
		staff1: close 12 60 80
		staff1: [I looked: nothing there]
		staff1: 50x28 20x90 10x120
		staff1: none
		staff1: [Confirm]
		@2026-11-25 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
	`)
	counted.Machine, counted.Blind = f.Machine, true
	counted.Shop.Machines[0].ID = 1
	places(f, site, counted, staffOnly, fresh)
	said := f.Says("owner", "overview")
	for _, part := range []string{
		"Example corner shop\n  Open since 06:40 by Ben.", "Inside at most: 40 x 50s, 150 x 20s, 200 x 10s.",
		"Closing of Tue 24 Nov: It balances.", "Harbour\n  Closed.",
		"Pier\n  Open since 06:40 by Ben.\n  Somebody is counting.",
		"New shop, not set up\n  This shop is not set up yet.",
	} {
		if !strings.Contains(said, part) {
			t.Errorf("%q is missing in\n%s", part, said)
		}
	}
	if strings.Contains(said, "Elsewhere") || strings.Count(said, "Inside at most") != 1 ||
		strings.Count(said, "Closing of") != 1 {
		t.Errorf("too much is told:\n%s", said)
	}
	f.At("2026-11-26 07:00")
	f.Expect(f.Says("owner", "overview"), "Closing of Wed 25 Nov is overdue.", "")
	f.Shop.Nightly = false
	if said := f.Says("owner", "overview"); strings.Count(said, "is overdue") != 1 { // Pier's alone
		t.Errorf("where notes stay in:\n%s", said)
	}
}

// Five machines are told at once, the others by number of the page; a page that
// is not there is the first one.
func TestOverviewPages(t *testing.T) {
	f := floor.New(t, dialogs.New)
	var list []chat.Site
	for id := range shop.ID(9) {
		list = append(list, another(f, id+2, fmt.Sprintf("Shop %d.", id+2)))
	}
	for typed, want := range map[string]string{
		"overview": "1 2 3 4 5 more 2", "overview 1": "1 2 3 4 5 more 2", "overview 2": "6 7 8 9 10",
		"overview 3": "1 2 3 4 5 more 2", "overview 0": "1 2 3 4 5 more 2", "overview x": "1 2 3 4 5 more 2",
		"overview -1": "1 2 3 4 5 more 2",
	} {
		places(f, list...)
		f.Shop.Name = "Shop 1."
		said, got := f.Says("owner", typed), ""
		for id := range 10 {
			if strings.Contains(said, fmt.Sprintf("Shop %d.\n", id+1)) {
				got += fmt.Sprintf(" %d", id+1)
			}
		}
		if strings.Contains(said, "For more, write: overview 2") {
			got += " more 2"
		}
		if strings.TrimSpace(got) != want {
			t.Errorf("%q: %s, want %s\n%s", typed, got, want, said)
		}
	}
}

// An owner sets one more shop up; it is a new one with the owner alone.
func TestNewShop(t *testing.T) {
	f := floor.New(t, dialogs.New)
	said := f.Says("owner", "new shop")
	f.Expect(said, "One more shop. Let us set it up.|What is your shop called?", "")
	if s := f.Last.Settings; !f.Last.Found || s == nil || !s.Fresh || len(s.People) != 1 ||
		s.People[0].Name != "Ada" || s.People[0].Role != shop.Owner {
		t.Errorf("founded %t: %+v", f.Last.Found, s)
	}
	if said := f.Says("staff1", "new shop"); f.Last.Found {
		t.Errorf("staff founds one:\n%s", said)
	}
}
