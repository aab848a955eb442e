package desk_test

import (
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/trust"
)

const newPhone = chat.Chat("term:second")

// takenOver is an office in which a manager let another phone speak for Cleo; ids
// are of shop.Example: 1 the owner, 2 Ben, 3 Cleo.
func takenOver(t *testing.T) *office {
	t.Helper()
	o := real(t)
	o.say(owner, "people")
	for _, l := range []string{"Ben", "Change role", "Manager"} {
		o.tap(owner, l)
	}
	o.say(staff1, "people")
	o.tap(staff1, "Cleo")
	o.tap(staff1, "New phone")
	code := linkIn(t, o)
	o.shown()
	o.say(newPhone, "/start "+code)
	return o
}

// standing is how an account stands in the file; -1: there is none.
func (o *office) standing(where chat.Chat) string {
	return o.ask("SELECT coalesce((SELECT frozen FROM account WHERE chat = ?), -1)", string(where))
}

// The phone that was a person's is told that another took its place, and objects with
// one tap. Both may count then and nothing else, what they record says so, the owner
// is asked, and what the owner says leaves one phone.
func TestOldPhoneObjects(t *testing.T) {
	for _, old := range []bool{true, false} {
		o := takenOver(t)
		wantTold(t, "takes over", o.shown(), map[chat.Chat]string{staff2: "Another phone speaks for Cleo"})
		o.say(staff2, "status")
		if lines := strings.Join(o.shown(), "\n"); !strings.Contains(lines, "not part of a shop") &&
			!strings.Contains(lines, "I only talk") && o.state(staff2).V != 0 {
			t.Errorf("the old phone still speaks: %s", lines)
		}
		o.tap(staff2, "This was not me")
		wantTold(t, "objection", o.shown(), map[chat.Chat]string{staff2: "An earlier phone of Cleo says",
			newPhone: "An earlier phone of Cleo says", owner: "Ask Cleo in person"})
		for _, phone := range []chat.Chat{newPhone, staff2} {
			for _, word := range []string{"people", "my code", "credit 100", "settings"} {
				o.say(phone, word)
			}
			if all := strings.Join(o.shown(), "\n"); strings.Count(all, "It is open which phone is yours") < 2 {
				t.Errorf("%s: %s", phone, all)
			}
		}
		o.say(staff2, "open 40 150 200")
		o.tap(staff2, "Confirm")
		o.say(newPhone, "topup 20s 10")
		o.tap(newPhone, "Confirm")
		marked := o.ask(`SELECT count(*) FROM entry WHERE by_person = 3
				AND json_extract(body, '$.marks[0]') = ?`, string(trust.InDispute))
		if marked != "2" {
			t.Errorf("%s records say that the phone is disputed", marked)
		}
		o.shown()
		label, stays, goes := "The new phone", newPhone, staff2
		if old {
			label, stays, goes = "The old phone", staff2, newPhone
		}
		o.tap(owner, label)
		wantTold(t, label, o.shown(), map[chat.Chat]string{stays: "this phone speaks for Cleo",
			goes: "another phone speaks for Cleo", owner: "is the right one"})
		if o.standing(stays) != "0" || o.standing(goes) != "-1" {
			t.Errorf("%s: the right phone stands at %s, the other at %s", label,
				o.standing(stays), o.standing(goes))
		}
		o.say(goes, "open 40 150 200")
		o.tap(goes, map[bool]string{true: "Confirm", false: "This was not me"}[old])
		o.say(stays, "my code")
		o.tap(owner, label) // the card is of no use any more
		if said := strings.Join(o.shown(), "\n"); !strings.Contains(said, string(stays)+" Personal code") {
			t.Errorf("%s: the right phone is still stopped: %s", label, said)
		}
		if n := o.ask("SELECT count(*) FROM entry"); n != "2" {
			t.Errorf("%s: %s records", label, n)
		}
		o.verify(2)
	}
}

// Only the phone in whose place another came objects, once; not one that was lost,
// a stranger's, another person's, and not with a payload that was made up.
func TestWhoMayObject(t *testing.T) {
	o := takenOver(t)
	tap := func(where chat.Chat, data string) {
		raw := o.raw(where, "")
		raw.Input.Kind, raw.Input.Tap = chat.Press, data
		o.take(raw)
		o.flush()
	}
	disputed := func() bool {
		return o.ask("SELECT body LIKE '%disputed%' FROM settings ORDER BY version DESC LIMIT 1") == "1"
	}
	for _, x := range []struct {
		where chat.Chat
		tap   string
	}{
		{"term:nobody", "o:object:3:1"}, {staff1, "o:object:3:1"}, {newPhone, "o:object:3:1"},
		{owner, "o:object:3:1"}, {staff2, "o:object:2:1"}, {staff2, "o:object:3:2"}, {staff2, "o:object:03:1"},
		{staff2, "o:object:3"}, {staff2, "o:object::1"}, {staff2, "o:decide:3.old:1"}, {staff2, "d:1:object"},
	} {
		if tap(x.where, x.tap); disputed() {
			t.Fatalf("%s objected by %s", x.where, x.tap)
		}
	}
	if tap(staff2, "o:object:3:1"); !disputed() {
		t.Fatal("the old phone cannot object: this tries the wrong thing")
	}
	versions := o.ask("SELECT max(version) FROM settings")
	tap(staff2, "o:object:3:1")
	for _, where := range []chat.Chat{staff1, staff2, newPhone} {
		tap(where, "o:decide:3.new:1")
	}
	if now := o.ask("SELECT max(version) FROM settings"); now != versions || !disputed() {
		t.Error("decided by somebody who is no owner, or objected twice")
	}

	o = real(t) // a phone that was lost has no say
	o.say(owner, "lost phone")
	o.tap(owner, "Cleo")
	o.say(owner, "people")
	o.tap(owner, "Cleo")
	o.tap(owner, "New phone")
	o.say(newPhone, "/start "+linkIn(t, o))
	if tap(staff2, "o:object:3:1"); disputed() || o.standing(staff2) != "-1" {
		t.Errorf("the lost phone stands at %s", o.standing(staff2))
	}
}

// Cut off while it is open, both phones are; let in again, it is open still.
func TestFrozenWhileDisputed(t *testing.T) {
	o := takenOver(t)
	o.tap(staff2, "This was not me")
	o.say(owner, "people")
	o.tap(owner, "Cleo")
	o.tap(owner, "Phone is lost")
	if o.standing(staff2) != "5" || o.standing(newPhone) != "1" {
		t.Errorf("stand at %s and %s", o.standing(staff2), o.standing(newPhone))
	}
	o.say(owner, "people")
	o.tap(owner, "Cleo")
	o.tap(owner, "Phone works")
	if o.standing(staff2) != "4" || o.standing(newPhone) != "0" {
		t.Errorf("stand at %s and %s", o.standing(staff2), o.standing(newPhone))
	}
	o.say(owner, "people")
	o.tap(owner, "Cleo")
	o.tap(owner, "The old phone")
	if o.standing(staff2) != "0" || o.standing(newPhone) != "-1" {
		t.Errorf("stand at %s and %s", o.standing(staff2), o.standing(newPhone))
	}
}

// The store takes no change from whoever's phone is disputed, whatever a dialog orders.
func TestDisputedChangesNothing(t *testing.T) {
	o := takenOver(t)
	o.tap(staff2, "This was not me")
	versions := o.ask("SELECT max(version) FROM settings")
	for name, orders := range map[string]func(chat.Facts, *chat.Result){
		"settings": func(f chat.Facts, r *chat.Result) {
			s := f.Shop.Settings
			r.Settings = &s
		},
		"void":   func(_ chat.Facts, r *chat.Result) { r.Void = 1 },
		"freeze": func(_ chat.Facts, r *chat.Result) { r.Freeze = 2 },
		"invite": func(f chat.Facts, r *chat.Result) {
			r.Invite = &chat.Invite{Name: "Max", Role: shop.Staff, Expires: o.clock.AddDate(0, 0, 1)}
		},
		"decide": func(_ chat.Facts, r *chat.Result) { r.Decide = &chat.Decision{Person: 3, Old: true} },
		"erase":  func(_ chat.Facts, r *chat.Result) { r.Erase = 1 },
	} {
		o.desk = o.deskWith(func(st chat.State, _ chat.Input, f chat.Facts) chat.Result {
			r := chat.Result{State: chat.State{V: chat.StateFormat}}
			orders(f, &r)
			return r
		})
		for range 3 {
			o.take(o.raw(newPhone, name))
		}
	}
	if now := o.ask("SELECT max(version) FROM settings"); now != versions {
		t.Error("new settings")
	}
	if n := o.ask("SELECT count(*) FROM code WHERE used = 0"); n != "0" {
		t.Errorf("%s open links", n)
	}
	if n := o.ask("SELECT count(*) FROM person WHERE name IS NULL"); n != "0" || o.standing(staff1) != "0" {
		t.Error("a name went, or a phone was cut off")
	}
}
