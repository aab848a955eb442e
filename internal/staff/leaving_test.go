package staff_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
)

// Whoever leaves stands among those who left, stands in for nobody any more, and the
// settings in force stay as they are.
func TestWithout(t *testing.T) {
	tell := teller(t, "owner")
	s := tell.F.Shop.Settings
	ben := s.People[1]
	ben.Deputy = true
	got := staff.Without(s, ben)
	if len(got.People) != 2 || got.People[1].Name != "Cleo" || len(got.Former) != 3 ||
		got.Former[2] != (shop.Person{ID: 2, Name: "Ben", Role: shop.Staff}) {
		t.Errorf("%+v, left: %+v", got.People, got.Former)
	}
	if len(s.People) != 3 || len(s.Former) != 2 || s.People[1].Name != "Ben" {
		t.Errorf("in force: %+v, %+v", s.People, s.Former)
	}
}

// The card of somebody who left is ticked off bit by bit; a payload that is none of its
// buttons ticks nothing.
func TestLeaver(t *testing.T) {
	tell := teller(t, "owner")
	p := shop.Person{ID: 8, Name: "Dora"}
	for done, want := range map[int]string{0: "0.0 0.1 0.2", 2: "2.0 2.2", 7: ""} {
		r := staff.Leaver(tell, p, done)
		var data []string
		for _, row := range r.Buttons {
			data = append(data, strings.TrimPrefix(row[0].Data, "o:leaver:8."))
		}
		if got := strings.Join(data, " "); got != want || r.Key != "leaver-8" {
			t.Errorf("%d done: %q, want %q", done, got, want)
		}
		if n := strings.Count(floor.Said(r.Body...), "Done:"); n != 3-len(r.Buttons) {
			t.Errorf("%d done: %d lines say so", done, n)
		}
	}
	for arg, want := range map[string]int{"8.0.0": 1, "8.1.2": 5, "8.7.0": 7, "8.2.1": 2} {
		if who, done, ok := staff.Ticked(tell.F.Shop, arg); !ok || who.Name != "Dora" || done != want {
			t.Errorf("%s: %+v, %d, %t", arg, who, done, ok)
		}
	}
	for _, arg := range []string{"", "8", "8.0", "8.0.0.0", "x.0.0", "8.x.0", "8.0.x", "8.8.0", "8.-1.0",
		"8.0.3", "8.0.-1", "77.0.0", "8.99999999999999999999.0"} {
		if _, _, ok := staff.Ticked(tell.F.Shop, arg); ok {
			t.Errorf("%q ticks something", arg)
		}
	}
}

// What somebody did in the last seven days, the newest first; the machine is named where
// there are several.
func TestDid(t *testing.T) {
	tell := teller(t, "owner")
	if got := staff.Did(tell, 2); got != nil {
		t.Errorf("nobody can say: %+v", got)
	}
	tell.F.Ask.Did = func(who shop.PersonID, since time.Time) []chat.Did {
		if who != 2 || !since.Equal(tell.Now.AddDate(0, 0, -7)) {
			t.Errorf("of %d since %s", who, since)
		}
		return []chat.Did{{Machine: 1, Kind: books.Opening, Happened: tell.Now.Add(-time.Hour)},
			{Machine: 1, Kind: books.TopUp, Happened: tell.Now}}
	}
	did := staff.Did(tell, 2)
	lines := staff.DidLines(tell, 2, did)
	if len(lines) != 3 || !strings.Contains(lines[1], "06:40 ") || !strings.Contains(lines[2], "05:40 ") ||
		strings.Contains(lines[1], "Cash machine") {
		t.Errorf("%q", lines)
	}
	tell.F.Shop.Machines = append(slices.Clone(tell.F.Shop.Machines), shop.Machine{ID: 2, Name: "Hall"})
	if lines := staff.DidLines(tell, 2, did); !strings.HasSuffix(lines[1], ", Cash machine") {
		t.Errorf("of two machines: %q", lines)
	}
}

// Whose phone can be cut off: of those below, who have one that still works, never one's own.
func TestLosable(t *testing.T) {
	phones := []chat.Phone{{Person: 1}, {Person: 2}, {Person: 3, Frozen: true}}
	for name, want := range map[string]string{"owner": "Ben", "staff1": ""} {
		var got []string
		for _, p := range staff.Losable(teller(t, name, phones...)) {
			got = append(got, p.Name)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %v, want %q", name, got, want)
		}
	}
}

// Words behind a command keep their letters, as a name is to be written.
func TestAsTyped(t *testing.T) {
	for _, s := range [][3]string{{"Invite Eve McKay", "eve mckay", "Eve McKay"}, {"invite", "", ""},
		{"please invite eve", "bob", "bob"}, {"eve", "eve", "eve"}, {"INVITE  Zoé", "zoé", "Zoé"}} {
		if got := staff.AsTyped(s[0], s[1]); got != s[2] {
			t.Errorf("%q behind %q: %q, want %q", s[1], s[0], got, s[2])
		}
	}
}

// A link leads nowhere once it was used, is too old, or whoever gave it out may not any more;
// nor does one for somebody who is in already.
func TestLinkOver(t *testing.T) {
	tell := teller(t, "owner")
	s := tell.F.Shop
	for name, x := range map[string]struct {
		link chat.Link
		want string
	}{
		"good":                {chat.Link{State: chat.LinkGood, Shop: s, By: 1, Role: shop.Staff}, ""},
		"a new shop":          {chat.Link{State: chat.LinkGood}, ""},
		"used":                {chat.Link{State: chat.LinkUsed, Shop: s}, "link-used"},
		"too old":             {chat.Link{State: chat.LinkExpired, Shop: s}, "link-expired"},
		"who gave it may not": {chat.Link{State: chat.LinkGood, Shop: s, By: 2, Role: shop.Owner}, "link-expired"},
		"who gave it left": {chat.Link{State: chat.LinkGood, Shop: s, By: 77, Role: shop.Staff},
			"link-expired"},
		"a member":               {chat.Link{State: chat.LinkGood, Shop: s, Member: true}, "link-member"},
		"a member's other phone": {chat.Link{State: chat.LinkGood, Shop: s, Member: true, Person: 2}, ""},
	} {
		want := x.want
		if want != "" {
			want = tell.V.Say(want, "place", s.Name)
		}
		if got := staff.LinkOver(tell.V, &x.link); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// Somebody new is let in under the next name that is free; another phone of somebody who is
// here lays nothing down.
func TestNewcomer(t *testing.T) {
	s := teller(t, "owner").F.Shop
	p, with := staff.Newcomer(&chat.Link{Shop: s, Name: "Eve", Role: shop.Manager})
	if p != (shop.Person{Name: "Eve", Role: shop.Manager}) || len(with.People) != 4 || with.People[3] != p {
		t.Errorf("%+v, %+v", p, with)
	}
	s.People[2].Name = "Ben 2"
	if p, _ := staff.Newcomer(&chat.Link{Shop: s, Name: "Ben", Role: shop.Staff}); p.Name != "Ben 3" {
		t.Errorf("the third Ben: %q", p.Name)
	}
	if p, with := staff.Newcomer(&chat.Link{Shop: s, Person: 2, Name: "x"}); p.Name != "Ben" || with != nil {
		t.Errorf("another phone: %+v, %+v", p, with)
	}
	if len(s.People) != 3 {
		t.Errorf("in force: %+v", s.People)
	}
}
