package staff_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
	"shopfloat/internal/telling"
)

// teller is what somebody is told by in a shop where Ada owns, Ben and Cleo are staff, and
// these phones are known.
func teller(t *testing.T, name string, phones ...chat.Phone) *telling.Teller {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Shop.Former = []shop.Person{{ID: 8, Name: "Dora"}, {ID: 9}}
	f.Knows = func(facts *chat.Facts) { facts.Ask.Phones = func() []chat.Phone { return phones } }
	return f.Engine.Talk(chat.State{V: chat.StateFormat}, chat.Input{Kind: chat.Text,
		Chat: floor.ChatOf(name),
		At:   f.Now}, f.Facts(name)).Teller
}

// Nobody new is called like somebody who works here or did, or like a role.
func TestNotFree(t *testing.T) {
	tell := teller(t, "owner")
	for name, want := range map[string]string{"Ben": "Ben", "ben": "Ben", "DORA": "Dora", "Eve": ""} {
		got := staff.NotFree(tell, name)
		if (got == "") != (want == "") || !strings.Contains(got, want) || staff.Taken(tell.F.Shop,
			name) != (want != "") {
			t.Errorf("%q: %q", name, got)
		}
	}
	if staff.NotFree(tell, "Owner") == "" || staff.Taken(tell.F.Shop, "Owner") {
		t.Error("a role is a name")
	}
}

// What can be done about somebody, by who asks and by the phone: nobody takes the mark of
// a shared phone from the last owner's reach, and nobody freezes their own.
func TestActions(t *testing.T) {
	phone := chat.Phone{Chat: "x", Person: 2}
	frozen, shared := phone, phone
	frozen.Frozen, shared.Shared = true, true
	for name, s := range map[string]struct {
		phones    []chat.Phone
		set       func(*shop.Person)
		who       int // in the shop's list
		want, not string
	}{
		"staff without a phone": {nil, nil, 1, "role deputy phone may-sign remove", "freeze thaw share"},
		"staff with a phone":    {[]chat.Phone{phone}, nil, 1, "share freeze", "thaw unshare"},
		"a frozen phone":        {[]chat.Phone{frozen}, nil, 1, "thaw", "freeze"},
		"a shared phone":        {[]chat.Phone{shared}, nil, 1, "unshare", "share"},
		"a deputy":              {nil, func(p *shop.Person) { p.Deputy = true }, 1, "no-deputy", "deputy"},
		"who signs":             {nil, func(p *shop.Person) { p.Signs = true }, 1, "void", "may-sign"},
		"the owner themselves": {[]chat.Phone{{Chat: "y", Person: 1}}, nil, 0, "role remove",
			"share freeze phone may-sign deputy"},
	} {
		tell := teller(t, "owner", s.phones...)
		p := tell.F.Shop.People[s.who]
		if s.set != nil {
			s.set(&p)
		}
		got := staff.Actions(tell, p)
		for _, w := range strings.Fields(s.want) {
			if !slices.Contains(got, w) {
				t.Errorf("%s: no %s in %v", name, w, got)
			}
		}
		for _, w := range strings.Fields(s.not) {
			if slices.Contains(got, w) {
				t.Errorf("%s: %s in %v", name, w, got)
			}
		}
	}
}

// What is special about a phone is said, of the worst first; one like others says nothing.
func TestPhoneWord(t *testing.T) {
	ben := shop.Person{ID: 2, Name: "Ben"}
	tell := teller(t, "owner")
	words := map[string]bool{}
	for name, phones := range map[string][]chat.Phone{"none": {{Person: 3}}, "frozen": {{Person: 2,
		Frozen: true}},
		"gone": {{Person: 2, Gone: true}}, "shared": {{Person: 2, Shared: true}}} {
		got := staff.PhoneWord(tell, phones, ben)
		if got == "" || strings.HasPrefix(got, "phone.") || words[got] {
			t.Errorf("%s: %q", name, got)
		}
		words[got] = true
	}
	if got := staff.PhoneWord(tell, []chat.Phone{{Person: 2}}, ben); got != "" {
		t.Errorf("a phone like others: %q", got)
	}
	ben.Disputed = true
	if got := staff.PhoneWord(tell, []chat.Phone{{Person: 2}}, ben); got == "" || words[got] {
		t.Errorf("a disputed one: %q", got)
	}
}

// Who may change whom, who left, and what somebody is called by their role.
func TestWho(t *testing.T) {
	boss, ben := teller(t, "owner"), teller(t, "staff1")
	people := boss.F.Shop.People
	if !staff.MayManage(boss, people[1]) || staff.MayManage(ben, people[0]) || !staff.MayManage(ben,
		people[1]) ||
		staff.MayManage(ben, people[2]) {
		t.Error("who may change whom")
	}
	if got := staff.FormerNamed(boss); len(got) != 1 || got[0].Name != "Dora" {
		t.Errorf("who left: %+v", got)
	}
	if got := staff.FormerNamed(ben); got != nil {
		t.Errorf("staff see who left: %+v", got)
	}
	if !staff.LastOwner(boss, people[0]) || staff.LastOwner(boss, people[1]) {
		t.Error("the last owner")
	}
	deputy := people[1]
	deputy.Deputy = true
	if a, b := staff.RoleName(boss, people[1]), staff.RoleName(boss, deputy); a == b ||
		strings.Contains(a+b, "role.") {
		t.Errorf("%q and %q", a, b)
	}
	link := &chat.Link{Shop: boss.F.Shop, Role: shop.Staff}
	for by, want := range map[shop.PersonID]bool{0: true, 1: true, 2: false, 77: false} {
		if link.By = by; staff.Stands(link) != want {
			t.Errorf("a link of %d stands: %t", by, !want)
		}
	}
	if got := strings.Join(staff.Account(boss, chat.Input{From: "Zoe Z", Public: "zoe_z"}),
		"\n"); !strings.Contains(got,
		"Zoe Z") || !strings.Contains(got, "zoe_z") {
		t.Errorf("%q", got)
	}
	if got := staff.Account(boss, chat.Input{}); len(got) != 1 {
		t.Errorf("an account without a name: %q", got)
	}
}
