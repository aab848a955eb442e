package people_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// crowd is a floor with a manager and a bookkeeper more, where everybody has a
// phone. Ada is owner, Ben and Cleo are staff, Dora manages, Eve keeps the books.
func crowd(t *testing.T) *floor.Floor {
	f := floor.New(t, dialogs.New)
	f.Shop.People = append(f.Shop.People, shop.Person{ID: 4, Name: "Dora", Role: shop.Manager},
		shop.Person{ID: 5, Name: "Eve", Role: shop.Bookkeeper})
	phones(f)
	return f
}

// phones gives everybody a phone; those given stand in place of a person's.
func phones(f *floor.Floor, special ...chat.Phone) {
	f.Knows = func(facts *chat.Facts) {
		if facts.Shop == nil {
			return
		}
		var list []chat.Phone
		for _, p := range f.Shop.People {
			own := chat.Phone{Chat: chat.Chat(fmt.Sprint("term:", p.ID)), Person: p.ID}
			for _, s := range special {
				if s.Person == p.ID {
					s.Chat = own.Chat
					own = s
				}
			}
			list = append(list, own)
		}
		facts.Ask.Phones = func() []chat.Phone { return list }
	}
}

// as makes the speaker "staff1" somebody else of the shop.
func as(f *floor.Floor, id shop.PersonID) {
	knows := f.Knows
	f.Knows = func(facts *chat.Facts) {
		knows(facts)
		facts.Person, _ = f.Shop.Person(id)
	}
}

// actions are what the card about somebody offers.
func actions(f *floor.Floor, who, name string) []string {
	f.Says(who, "people")
	f.Taps(who, name)
	list := f.Choices(who)
	return list[:slices.Index(list, "back")] // what follows is on every card
}

// What can be done about somebody depends on who they are, on their phone and on
// who asks.
func TestWhatCanBeDone(t *testing.T) {
	for _, x := range []struct {
		speaker shop.PersonID
		about   string
		phone   chat.Phone
		change  func(*shop.Settings)
		want    string
	}{
		{1, "Ben", chat.Phone{}, nil, "role deputy share phone freeze may-sign remove"},
		{1, "Ben", chat.Phone{Person: 2, Shared: true}, nil, "role deputy unshare phone freeze may-sign remove"},
		{1, "Ben", chat.Phone{Person: 2, Frozen: true}, nil, "role deputy phone thaw may-sign remove"},
		{1, "Ben", chat.Phone{}, func(s *shop.Settings) { s.People[1].Deputy = true },
			"role no-deputy share phone freeze may-sign remove"},
		{1, "Dora", chat.Phone{}, nil, "role share phone freeze may-sign remove"},
		{1, "Ada", chat.Phone{}, nil, "role remove"},
		{1, "Ada", chat.Phone{}, func(s *shop.Settings) { s.People[3].Role = shop.Owner },
			"role share remove"},
		{4, "Ben", chat.Phone{}, nil, "role deputy share phone freeze may-sign remove"},
		{4, "Dora", chat.Phone{}, nil, "share remove"},
		{4, "Ada", chat.Phone{}, nil, ""},
	} {
		f := crowd(t)
		if x.change != nil {
			x.change(&f.Shop.Settings)
		}
		phones(f, x.phone)
		as(f, x.speaker)
		if got := strings.Join(actions(f, "staff1", x.about), " "); got != x.want {
			t.Errorf("%d about %s: %q, want %q", x.speaker, x.about, got, x.want)
		}
	}
	f := crowd(t)
	as(f, 4)
	f.Says("staff1", "people")
	f.Expect(f.Taps("staff1", "Ada"), "Ada: owner.|Only an owner can change this.", "Change role")
	f.Chooses("staff1", "remove")
	if f.State("staff1").Step != "person" {
		t.Error("a manager gets at the owner by a button that is not there")
	}
}

// The list tells roles and what is special about a phone, a page at a time.
func TestPeopleList(t *testing.T) {
	f := crowd(t)
	phones(f, chat.Phone{Person: 2, Frozen: true}, chat.Phone{Person: 3, Shared: true}, chat.Phone{Person: 99})
	f.Shop.People[2].Deputy = true
	f.Expect(f.Says("owner", "people"),
		"Ada   owner|Ben   staff                             phone cut off|"+
			"Cleo  staff, stands in for the manager  shared phone", "no phone")
	f.Knows = func(facts *chat.Facts) { facts.Ask.Phones = nil }
	f.Expect(f.Says("owner", "people"), "Ada   owner                             no phone", "")
	for i := range 3 {
		f.Shop.People = append(f.Shop.People, shop.Person{ID: shop.PersonID(10 + i), Name: fmt.Sprint("Finn ", i),
			Role: shop.Staff})
	}
	f.Expect(f.Says("owner", "people"), "Finn 0|[Next ones]", "Finn 1")
	f.Expect(f.Taps("owner", "Next"), "Finn 1|Finn 2", "Finn 0|[Next")
	f.Taps("owner", "Finn 2")
	f.Expect(f.Taps("owner", "Back"), "Finn 1", "Finn 0") // the page that it was chosen from
}

// A role is changed at once; whoever has another one is told, with a menu of it.
func TestRole(t *testing.T) {
	f := crowd(t)
	f.Shop.People[1].Deputy = true
	f.Play("owner: people\nowner: [Ben]\nowner: [Change role]")
	f.Expect(f.Taps("owner", "Manager"), "Ben is manager now. It holds at once.", "")
	if p := f.Last.Settings.People[1]; p.Role != shop.Manager || p.Deputy {
		t.Errorf("laid down %+v", p)
	}
	if told := f.Last.Replies[0]; told.To.Person != 2 ||
		told.Body[0].Text != "Your role has changed. You are manager now." {
		t.Errorf("told %+v", told)
	}
	if menu := f.Last.Replies[1]; menu.To.Person != 2 || len(menu.Menu) == 0 {
		t.Errorf("menu %+v", menu)
	}
	as(f, 4)
	f.Play("staff1: people\nstaff1: [Cleo]")
	f.Expect(f.Taps("staff1", "Change role"), "[Staff]|[Bookkeeper]", "[Owner]|[Manager]")
	if f.Chooses("staff1", "role-owner"); f.Last.Settings != nil {
		t.Error("a manager makes an owner")
	}
}

// A shop keeps an owner: the last one can neither be given another role nor be
// removed; one of two can go by themselves.
func TestLastOwner(t *testing.T) {
	f := crowd(t)
	f.Play("owner: people\nowner: [Ada]\nowner: [Change role]")
	f.Expect(f.Taps("owner", "Manager"), "A shop needs an owner.|Ada: owner.", "")
	f.Taps("owner", "Change role")
	if f.Expect(f.Taps("owner", "Owner"), "Ada is owner now.", ""); f.Last.Replies[0].To.Person != 0 {
		t.Error("who changes their own role is told of it by another message")
	}
	f.Play("owner: people\nowner: [Ada]")
	f.Expect(f.Taps("owner", "No longer works here"), "A shop needs an owner.", "Yes, remove")
	f.Shop.People[3].Role = shop.Owner
	f.Play("owner: people\nowner: [Ada]\nowner: [No longer works here]")
	f.Shop.People[3].Role = shop.Manager // meanwhile
	if f.Taps("owner", "Yes, remove"); f.Last.Remove != 0 {
		t.Error("the last owner goes by a card from when there were two")
	}
	f.Shop.People[3].Role = shop.Owner
	f.Play("owner: people\nowner: [Ada]\nowner: [No longer works here]")
	f.Expect(f.Taps("owner", "Yes, remove"), "You no longer belong to this shop.", "keys given back")
	if f.Last.Remove != 1 || len(f.Last.Settings.People) != 4 || f.Last.Settings.Former[0].Name != "Ada" {
		t.Errorf("removed %d: %+v", f.Last.Remove, f.Last.Settings)
	}
}

// Staff stand in for the manager, and no longer do.
func TestStandIn(t *testing.T) {
	f := crowd(t)
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "Stands in"), "Ben stands in for the manager now.|You stand in for the manager", "")
	if !f.Last.Settings.People[1].Deputy || f.Shop.People[1].Deputy {
		t.Errorf("laid down %+v", f.Last.Settings.People)
	}
	f.LayDown()
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "Stands in no longer"), "Ben no longer stands in|Thank you.", "")
	if f.Last.Settings.People[1].Deputy {
		t.Errorf("laid down %+v", f.Last.Settings.People)
	}
}

// A phone is cut off, works again, is shared or not, and is exchanged by a link
// that works for two days.
func TestPhones(t *testing.T) {
	f := crowd(t)
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "Phone is lost"),
		"The phone of Ben is cut off.|Ada cut off the phone of Ben: lost.", "")
	if f.Last.Freeze != 2 {
		t.Errorf("cut off %d", f.Last.Freeze)
	}
	phones(f, chat.Phone{Person: 2, Frozen: true})
	f.Play("owner: people\nowner: [Ben]")
	if f.Expect(f.Taps("owner", "Phone works again"), "works again.", ""); f.Last.Thaw != 2 {
		t.Errorf("works again %d", f.Last.Thaw)
	}
	phones(f)
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "It is the shared phone"), "The phone of Ben is shared now.", "")
	if s := f.Last.Share; s == nil || !s.Shared || s.Chat != "term:2" {
		t.Errorf("shared %+v", s)
	}
	phones(f, chat.Phone{Person: 2, Shared: true})
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "No longer a shared"), "The phone of Ben is no longer shared.", "")
	if s := f.Last.Share; s == nil || s.Shared || s.Chat != "term:2" {
		t.Errorf("no longer shared %+v", s)
	}
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "New phone"),
		"Send this link to Ben, for a new phone.|until Fri 27 Nov, 06:40|{link}", "")
	if i := f.Last.Invite; i == nil || i.Person != 2 || i.Role != shop.Staff ||
		!i.Expires.Equal(f.Now.Add(48*time.Hour)) {
		t.Errorf("link %+v", i)
	}
}

// Whoever loses a phone is found by those who may cut it off: not one's own, none
// that is cut off already, no owner's by a manager.
func TestLostPhone(t *testing.T) {
	f := crowd(t)
	phones(f, chat.Phone{Person: 3, Frozen: true})
	f.Expect(f.Says("owner", "lost phone"), "[Ben]|[Dora]|[Eve]", "[Ada]|[Cleo]")
	if f.Expect(f.Taps("owner", "Dora"), "The phone of Dora is cut off.", ""); f.Last.Freeze != 4 {
		t.Errorf("cut off %d", f.Last.Freeze)
	}
	as(f, 4)
	f.Expect(f.Says("staff1", "lost phone"), "[Ben]|[Eve]", "[Ada]|[Dora]")
	f.Says("staff1", "cancel")
	phones(f)
	f.Shop.People = f.Shop.People[:1]
	f.Expect(f.Says("owner", "lost phone"), "There is no phone that you can cut off.", "Whose phone")
}

// Nobody sets another's code: a manager only says that somebody may choose one at
// the counter, or makes the one there is void.
func TestSigningHere(t *testing.T) {
	f := crowd(t)
	coded := false
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.Coded = func(p shop.PersonID) bool { return coded && p == 2 }
	}
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "May sign here"), "Ben may sign at the counter now", "type 4 to 8")
	if s := f.Last.Settings; s == nil || !s.People[1].Signs || f.Last.PIN != nil || f.Last.Void != 0 {
		t.Errorf("laid down %+v", f.Last.Orders)
	}
	f.Shop.People[1].Signs = true
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "Code is void"), "The personal code of Ben is void.", "")
	if s := f.Last.Settings; s == nil || s.People[1].Signs || f.Last.Void != 2 {
		t.Errorf("laid down %+v", f.Last.Orders)
	}
	f.Shop.People[1].Signs, coded = false, true
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "Code is void"), "The personal code of Ben is void.", "")
	if f.Last.Settings != nil || f.Last.Void != 2 {
		t.Errorf("laid down %+v", f.Last.Orders)
	}
}

// An owner says which of two phones is somebody's, on the card or from people; nobody
// else does, not about themselves, and not twice.
func TestDecidesAboutPhones(t *testing.T) {
	f := crowd(t)
	f.Shop.People[1].Disputed = true
	f.Expect(f.Says("owner", "people"), "phone disputed", "")
	f.Expect(f.Taps("owner", "Ben"), "[The old phone is right]|[The new phone is right]", "[New phone]")
	f.Expect(f.Taps("owner", "The new phone"), "the new phone of Ben is the right one", "")
	if d := f.Last.Decide; d == nil || *d != (chat.Decision{Person: 2}) || f.Last.Settings.People[1].Disputed {
		t.Errorf("decided %+v", d)
	}
	f.Shop.People[1].Disputed = true
	old := chat.Button{Data: "o:decide:2.old:1"}
	f.Expect(f.Press("owner", old), "the old phone of Ben is the right one", "")
	if d := f.Last.Decide; d == nil || *d != (chat.Decision{Person: 2, Old: true}) {
		t.Errorf("decided %+v", d)
	}
	f.Shop.People[1].Disputed = false
	for _, tap := range []string{"2.old", "2.new", "2.", "2", "99.old", "x.old", "1.old", "2.both"} {
		if f.Press("owner", chat.Button{Data: "o:decide:" + tap + ":1"}); f.Last.Decide != nil {
			t.Errorf("%s is decided", tap)
		}
	}
	f.Shop.People[1].Disputed = true
	as(f, 4)
	f.Expect(f.Press("staff1", old), "not part of your role", "right one")
	f.Says("staff1", "people")
	f.Expect(f.Taps("staff1", "Ben"), "phone disputed", "phone is right")
}

// Of whom it is open which phone is theirs may count and nothing else.
func TestDisputedOnlyCounts(t *testing.T) {
	f := crowd(t)
	f.Shop.People[0].Disputed = true
	for _, word := range []string{"people", "settings", "credit 100", "my code", "correct", "invite Max"} {
		f.Expect(f.Says("owner", word), "It is open which phone is yours.", "")
		if r := f.Last; r.Settings != nil || r.PIN != nil || r.Invite != nil || len(r.Records) > 0 {
			t.Errorf("%s: %+v", word, r)
		}
	}
	f.Says("owner", "hours mon closed")
	if f.Expect(f.Taps("owner", "Confirm"), "It is open which phone is yours.", ""); f.Last.Settings != nil {
		t.Error("the hours are others now")
	}
	f.Expect(f.Says("owner", "open 40 150 200"), "Opening", "It is open which")
	f.Taps("owner", "Confirm")
	if len(f.Last.Records) != 1 {
		t.Error("counting stopped")
	}
}
