package shop_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// bounds are settings at and beyond what a shop may lay down; a case changes the
// example in one thing.
type bounds []struct {
	name   string
	change func(*shop.Settings)
	want   string // in the error; empty: taken
}

func (list bounds) check(t *testing.T) {
	t.Helper()
	for _, c := range list {
		settings := shop.Example()
		c.change(&settings)
		s, err := shop.New(7, 3, settings)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want == "" && !reflect.DeepEqual(s.Settings, settings):
			t.Errorf("%s: the settings are not what was laid down", c.name)
		case c.want != "" && (err == nil || s != nil):
			t.Errorf("%s: taken", c.name)
		case c.want != "" && !strings.HasPrefix(err.Error(), "shop 7: "):
			t.Errorf("%s: %q does not name the shop", c.name, err)
		case c.want != "" && !strings.Contains(err.Error(), c.want):
			t.Errorf("%s: %q, want %q", c.name, err, c.want)
		}
	}
}

// A version knows its shop, its number and the place's clock: at noon in London in
// summer it is 13:00 in Paris.
func TestNew(t *testing.T) {
	settings := shop.Example()
	settings.Zone = "Europe/Paris"
	s, err := shop.New(7, 3, settings)
	if err != nil {
		t.Fatal(err)
	}
	noon := time.Date(2026, 7, 1, 11, 0, 0, 0, time.UTC)
	if s.ID != 7 || s.Version != 3 || noon.In(s.Location).Hour() != 13 {
		t.Errorf("shop %d version %d at %s", s.ID, s.Version, noon.In(s.Location))
	}
	other, err := shop.New(8, 1, settings)
	if err != nil || other.Location != s.Location {
		t.Errorf("two shops of a zone do not share it: %p %p, %v", s.Location, other.Location, err)
	}
}

func TestNewRefuses(t *testing.T) {
	box := func(i int, change func(*shop.Box)) func(*shop.Settings) {
		return func(s *shop.Settings) { change(&s.Machines[0].Boxes[i]) }
	}
	bounds{
		{"the example", func(*shop.Settings) {}, ""},
		{"nothing laid down but money", func(s *shop.Settings) { *s = shop.Settings{Currency: "EUR"} }, ""},
		{"a zone that is none", func(s *shop.Settings) { s.Zone = "Europe/Atlantis" }, "zone"},
		{"money that is none", func(s *shop.Settings) { s.Currency = "XYZ" }, "currency"},
		{"money in small letters", func(s *shop.Settings) { s.Currency = "eur" }, "currency"},
		{"a box of no notes", box(0, func(b *shop.Box) { b.Capacity = 0 }), "machine 1: box 1"},
		{"a box of less", box(1, func(b *shop.Box) { b.Capacity = -1 }), "machine 1: box 2"},
		{"a box of one note", box(1, func(b *shop.Box) { b.Capacity = 1 }), ""},
		{"a box for no kind", box(2, func(b *shop.Box) { b.Face = "" }), "machine 1: box 3"},
		{"two boxes in one place", box(1, func(b *shop.Box) { b.Position = 1 }), "machine 1: box 2"},
		{"boxes from nought on", box(0, func(b *shop.Box) { b.Position = 0 }), "machine 1: box 1"},
		{"two boxes of one kind", box(1, func(b *shop.Box) { b.Face = "50" }), ""},
		{"the second machine's box", func(s *shop.Settings) {
			boxes := []shop.Box{{Position: 2, Face: "20", Capacity: 9}}
			s.Machines = append(s.Machines, shop.Machine{ID: 9, Boxes: boxes})
		}, "machine 9: box 1"},
	}.check(t)
}

// How full to load: three levels, or both costs above nothing.
func TestLoadBounds(t *testing.T) {
	costs := func(missed, idle string) func(*shop.Settings) {
		return func(s *shop.Settings) {
			s.Load = shop.Load{Level: shop.ByCosts, Missed: decimal.RequireFromString(missed),
				Idle: decimal.RequireFromString(idle)}
		}
	}
	level := func(l shop.LoadLevel) func(*shop.Settings) { return func(s *shop.Settings) { s.Load.Level = l } }
	bounds{
		{"rarely empty", level(shop.RarelyEmpty), ""},
		{"balanced", level(shop.Balanced), ""},
		{"little cash", level(shop.LittleCash), ""},
		{"to the brim", level("brim"), "brim"},
		{"costs", costs("0.01", "0.0001"), ""},
		{"no cost of a customer", costs("0", "1"), "costs of 0 and 1"},
		{"no cost of idle cash", costs("1", "0"), "costs of 1 and 0"},
		{"a gain", costs("-1", "1"), "costs of -1"},
	}.check(t)
}

// Whom to ring, what the provider says, and how long a restart takes. A text is as
// long as it has characters, in whatever script.
func TestTroubleBounds(t *testing.T) {
	advice := func(topic, text string) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Advice = []shop.Advice{{Topic: topic, Text: text}} }
	}
	number := func(who, no string) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Numbers = []shop.Number{{Who: who, Number: no}} }
	}
	restart := func(minutes int) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Machines[0].RestartMinutes = minutes }
	}
	bounds{
		{"a number", number("provider", "01 5550100"), ""},
		{"nobody's number", number("", "01 5550100"), "number"},
		{"no number", number("police", ""), "number"},
		{"one character", advice("jam", "x"), ""},
		{"300 characters", advice("jam", strings.Repeat("ж", 300)), ""},
		{"301 characters", advice("jam", strings.Repeat("x", 301)), "jam"},
		{"none", advice("jam", ""), "jam"},
		{"about nothing", advice("", "call first"), "advice"},
		{"a restart not laid down", restart(0), ""},
		{"two hours", restart(120), ""},
		{"more", restart(121), "121"},
		{"less than no time", restart(-1), "-1"},
	}.check(t)
	settings := shop.Example()
	settings.Numbers = []shop.Number{{Who: "police", Number: "112"}, {Who: "bank", Number: "01 5550111"}}
	for who, want := range map[string]string{"bank": "01 5550111", "police": "112", "engineer": "", "": ""} {
		if got := settings.Call(who); got != want {
			t.Errorf("%q is rung at %q, want %q", who, got, want)
		}
	}
}

// What is asked of a shop by number, kind of note or person; what it does not know is
// nothing, and the first of two wins.
func TestLookUps(t *testing.T) {
	settings := shop.Example()
	settings.Machines = append(settings.Machines, shop.Machine{ID: 5, Name: "Back room", Boxes: []shop.Box{
		{Position: 1, Face: "5", Capacity: 10}, {Position: 2, Face: "20", Capacity: 10},
		{Position: 3, Face: "100", Capacity: 10}, {Position: 4, Face: "20", Capacity: 10},
		{Position: 5, Face: "0.5", Capacity: 10},
	}})
	settings.Bundles = []shop.FaceNotes{
		{Face: "50", Notes: 100}, {Face: "20", Notes: 50}, {Face: "20", Notes: 7}}
	settings.Tolerance = []shop.FaceNotes{{Face: "50", Notes: 0}, {Face: "10", Notes: 2}}
	settings.Former = []shop.Person{
		{ID: 4, Name: "Dee", Role: shop.Manager}, {ID: 2, Name: "Old", Role: shop.Owner}}
	s, err := shop.New(1, 1, settings)
	if err != nil {
		t.Fatal(err)
	}
	if m := s.Machine(5); m == nil || m.Name != "Back room" || s.Machine(2) != nil || s.Machine(0) != nil {
		t.Errorf("machine 5 is %+v", m)
	}
	want := []cashmath.Face{"100", "20", "5", "0.5"}
	if got := s.Machine(5).Faces(); !slices.Equal(got, want) {
		t.Errorf("kinds of note %v, want %v", got, want)
	}
	for face, want := range map[cashmath.Face][2]int64{
		"50": {100, 0}, "20": {50, 0}, "10": {0, 2}, "7": {0, 0},
	} {
		if got := [2]int64{s.Bundle(face), s.Allowed(face)}; got != want {
			t.Errorf("%ss: bundle and tolerance %v, want %v", face, got, want)
		}
	}
	for id, want := range map[shop.PersonID][2]string{
		1: {"Ada", "Ada"}, 2: {"Ben", "Ben"}, 4: {"", "Dee"}, 9: {"", ""}, 0: {"", ""},
	} {
		p, works := s.Person(id)
		k, known := s.Known(id)
		if p.Name != want[0] || works != (want[0] != "") || k.Name != want[1] || known != (want[1] != "") {
			t.Errorf("person %d: %+v %t, known as %+v %t; want %v", id, p, works, k, known, want)
		}
	}
}

// Who is told of differences: owners, managers and whoever of the staff stands in.
func TestRoles(t *testing.T) {
	for _, c := range []struct {
		role    shop.Role
		deputy  bool
		acts    shop.Role
		manages bool
	}{
		{shop.Owner, false, shop.Owner, true}, {shop.Owner, true, shop.Owner, true},
		{shop.Manager, false, shop.Manager, true}, {shop.Manager, true, shop.Manager, true},
		{shop.Staff, false, shop.Staff, false}, {shop.Staff, true, shop.Manager, true},
		{shop.Bookkeeper, false, shop.Bookkeeper, false}, {shop.Bookkeeper, true, shop.Bookkeeper, false},
	} {
		got := shop.Person{Role: c.role, Deputy: c.deputy}.Acts()
		if got != c.acts || got.Manages() != c.manages {
			t.Errorf("%s, deputy %t: acts as %s, manages %t", c.role, c.deputy, got, got.Manages())
		}
	}
	if len(shop.Roles()) != 4 || shop.Roles()[0] != shop.Owner {
		t.Errorf("roles %v", shop.Roles())
	}
}

// The example is a whole shop: what it says of one kind of note it says of all.
func TestExample(t *testing.T) {
	settings := shop.ExampleWith(11, 12, 13)
	s, err := shop.New(1, 1, settings)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Machine(1).Faces() {
		if s.Bundle(f) != 100 || s.Allowed(f) < 0 || !slices.Contains(cashmath.Denominations(s.Currency), f) {
			t.Errorf("%ss come in bundles of %d and may differ by %d", f, s.Bundle(f), s.Allowed(f))
		}
	}
	for _, b := range s.Machines[0].Boxes {
		if b.Low <= 0 || b.Low >= b.Usual || b.Usual >= b.Capacity {
			t.Errorf("box %d is low at %d, usually %d of %d", b.Position, b.Low, b.Usual, b.Capacity)
		}
	}
	for day, h := range s.Hours {
		if h != (shop.Hours{Open: 420, Close: 1260}) { // 07:00 to 21:00
			t.Errorf("on %s it trades %+v", time.Weekday(day), h)
		}
	}
	c, ok := shop.CountryOf(s.Country)
	if !ok || c.Currency != s.Currency || !slices.Contains(c.Zones, s.Zone) {
		t.Errorf("%s has %s in %v", s.Country, c.Currency, c.Zones)
	}
	var who []shop.PersonID
	for _, p := range s.People {
		who = append(who, p.ID)
	}
	if !slices.Equal(who, []shop.PersonID{11, 12, 13}) || s.People[0].Role != shop.Owner ||
		s.People[1].Role != shop.Staff || s.People[2].Role != shop.Staff {
		t.Errorf("people %+v", s.People)
	}
	settings.Machines[0].Boxes[0].Usual = 1
	if shop.Example().Machines[0].Boxes[0].Usual == 1 {
		t.Error("a change of one example is in the next")
	}
}
