package setup_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// claimed is a floor whose shop was just claimed by somebody without a name.
func claimed(t *testing.T) *floor.Floor {
	f := floor.New(t, dialogs.New)
	f.Shop.Settings = shop.Settings{Fresh: true, Country: "IE", Zone: "Europe/Dublin", Currency: "EUR",
		People: []shop.Person{{ID: 1, Role: shop.Owner}, {ID: 2, Role: shop.Staff}}}
	f.Machine = nil
	return f
}

// asJSON makes settings comparable: two amounts alike may be kept in two ways.
func asJSON(t *testing.T, s shop.Settings) string {
	t.Helper()
	data, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// A shop far away, with money that has no smaller parts, is laid down as it was
// answered, and every answer is read back.
func TestSetUp(t *testing.T) {
	f := claimed(t)
	f.Says("owner", "hello")
	review := f.Play(`
		owner: Ada
		owner: Corner shop
		owner: japan
		owner: The machine
		owner: 10000 1000
		owner: 2000 1500
		owner: 100 1499
		owner: 100 50
		owner: [Notes stay in]
		owner: 400000
		owner: mon-fri 9-18, sat 10-14, sun closed
		owner: 2
		owner: [Several in one sum]
		owner: [Notes only]
		owner: [Dial]
		owner: ok
		owner: [Later]
		owner: yes.
	`)
	for range 4 {
		if strings.Contains(review, "[Confirm]") {
			t.Errorf("it is confirmed before all of it was read:\n%s", review)
		}
		if lines := strings.Count(f.Last.Replies[0].Body[1].Text, "\n"); lines > 6 {
			t.Errorf("a page of %d lines:\n%s", lines, review)
		}
		review += f.Taps("owner", "Right, go on")
	}
	for _, line := range []string{
		"You: Ada", "Country: Japan", "Clock: Asia/Tokyo",
		"Money: JPY", "Note boxes: 10000s, 1000s", "Notes that fit: 2000 1500",
		"Nearly empty at: 100 1499", "Notes in a bundle: 100 50", "Most cash inside: ¥400,000",
		"Open: Mon-Fri 09:00-18:00, Sat 10:00-14:00, Sun closed",
		"Bank pays after: 2 working days", "Two persons count: Yes, two persons",
	} {
		if !strings.Contains(review, line) {
			t.Errorf("%q is missing in\n%s", line, review)
		}
	}
	f.Taps("owner", "Confirm")
	week := shop.Hours{Open: 9 * 60, Close: 18 * 60}
	want := shop.Settings{Name: "Corner shop", Country: "JP", Zone: "Asia/Tokyo", Currency: "JPY",
		Limit: decimal.NewFromInt(400_000), CreditDays: 2, CreditHow: "together", TwoPersons: true,
		Hours: [7]shop.Hours{{}, week, week, week, week, week, {Open: 10 * 60, Close: 14 * 60}},
		Machines: []shop.Machine{{Name: "The machine", LargestDispense: 40, TestDispense: true, Lock: "dial",
			Prints: "notes", Boxes: []shop.Box{{Position: 1, Face: "10000", Capacity: 2000, Low: 100},
				{Position: 2, Face: "1000", Capacity: 1500, Low: 1499}}}},
		People:  []shop.Person{{ID: 1, Name: "Ada", Role: shop.Owner}, {ID: 2, Role: shop.Staff}},
		Bundles: []shop.FaceNotes{{Face: "10000", Notes: 100}, {Face: "1000", Notes: 50}}}
	if got := asJSON(t, *f.Last.Settings); got != asJSON(t, want) {
		t.Errorf("laid down\n%s\nwant\n%s", got, asJSON(t, want))
	}
	replies := f.Last.Replies
	if !slices.ContainsFunc(replies, func(r chat.Reply) bool { return len(r.Menu) > 0 }) {
		t.Error("no menu is offered once the shop is set up")
	}
	first := replies[len(replies)-1]
	if form := replies[len(replies)-2].File; form == nil || !strings.HasPrefix(string(form.Data), "%PDF-") {
		t.Error("the paper form is not sent")
	}
	if len(first.Buttons) != 2 || !strings.Contains(first.Body[0].Text, "Your first day") {
		t.Errorf("it ends with %v", first)
	}
	f.LayDown()
	f.Expect(f.Says("owner", "setup"), "set up already", "")
}

// In the euro area the law asks for a check of notes; what the person is called
// is not asked where it is known; every answer can be tapped.
func TestSetUpByTaps(t *testing.T) {
	f := claimed(t)
	f.Shop.People[0].Name = "Ada"
	f.Play(`
		owner: hello
		owner: Corner shop
		owner: [Austria]
		owner: [Cash machine]
		owner: [50s, 20s, 10s]
		owner: [2,000 in each]
		owner: [40]
		owner: [50s: 100]
		owner: [Emptied, safe left open]
		owner: [No limit]
		owner: [Every day 08:00]
		owner: [I don't know yet]
		owner: [Each slip]
		owner: [Notes and money]
		owner: [Key]
		owner: [No]
		owner: [Later]
		owner: [No, one]
		owner: [Right, go on]
		owner: [Right, go on]
		owner: [Right, go on]
		owner: [Right, go on]
		owner: [Confirm]
	`)
	s := f.Last.Settings
	if s == nil || s.Zone != "Europe/Vienna" || !s.Checked || !s.Nightly || !s.SafeOpen || !s.Limit.IsZero() ||
		s.CreditDays != 0 || s.Fresh || s.People[0].Name != "Ada" || s.Hours[0].Open != 8*60 {
		t.Fatalf("laid down %+v", s)
	}
	boxes := []shop.Box{{Position: 1, Face: "50", Capacity: 2000, Low: 40},
		{Position: 2, Face: "20", Capacity: 2000, Low: 40}, {Position: 3, Face: "10", Capacity: 2000, Low: 40}}
	if m := s.Machines[0]; !slices.Equal(m.Boxes, boxes) || m.TestDispense || m.Name != "Cash machine" {
		t.Errorf("a machine of %+v", m)
	}
}

// Of a country that is not in the table clock and money are asked; the money of
// another country drops what was said in the first.
func TestAnotherCountryAsksAnew(t *testing.T) {
	f := claimed(t)
	f.Play(`
		owner: hello
		owner: Ada
		owner: Corner shop
		owner: py
		owner: Pacific/Auckland
		owner: nzd
		owner: Machine
		owner: 50 20
		owner: 2000
		owner: 40
		owner: 100
		owner: [Emptied, safe locked]
		owner: 40000
		owner: 9-18
		owner: 0
		owner: [I don't know]
		owner: [Money only]
		owner: [Keypad]
		owner: [No]
		owner: [Later]
		owner: [No, one]
		owner: [Change]
	`)
	if said := f.Taps("owner", "Country"); !strings.Contains(said, "In which country") ||
		!slices.Contains(f.Choices("owner"), "same") {
		t.Errorf("the country as it is cannot be kept:\n%s", said)
	}
	f.Expect(f.Says("owner", "france"), "In which part of the country|[Another part, or none]", "")
	f.Expect(f.Says("owner", "Atlantis"), "I do not know that part of the country.", "note boxes")
	f.Expect(f.Taps("owner", "Another part"), "Which notes are in the note boxes", "")
	said := f.Play(`
		owner: 50 20
		owner: 2000
		owner: 40
		owner: 100
	`)
	if !strings.Contains(said, "most cash allowed inside") {
		t.Errorf("the limit in another money stayed:\n%s", said)
	}
	review := f.Says("owner", "30000")
	for range 2 {
		review += f.Taps("owner", "Right, go on")
	}
	for _, line := range []string{"France", "Europe/Paris", "EUR", "30\u202f000\u00a0€"} {
		if !strings.Contains(review, line) {
			t.Errorf("%s is missing in\n%s", line, review)
		}
	}
	f.Taps("owner", "Change")
	f.Expect(f.Says("owner", "back"), "Please check:", "")
}

// Kinds of note that are not in circulation, and a night that runs past
// midnight, are asked back: kept at a word, asked again at another.
func TestAskedBack(t *testing.T) {
	f := claimed(t)
	f.Play(`
		owner: hello
		owner: Ada
		owner: Corner shop
		owner: [Ireland]
		owner: Machine
	`)
	f.Expect(f.Says("owner", "50 30"),
		"notes of 30s in this money|Known are: 5s, 10s, 20s, 50s, 100s, 200s, 500s.", "")
	f.Expect(f.Taps("owner", "Change"), "Which notes are in the note boxes", "")
	f.Chooses("owner", "keep")
	if at := f.State("owner").Step; at != "boxes" {
		t.Errorf("what was taken back is kept: at %q", at)
	}
	f.Chooses("owner", "same")
	if at := f.State("owner").Step; at != "boxes" {
		t.Errorf("an answer that was never given is kept: at %q", at)
	}
	f.Says("owner", "50 30")
	f.Says("owner", "back")
	f.Expect(f.Says("owner", "Machine"), "Which notes are", "")
	f.Says("owner", "50 30")
	f.Expect(f.Says("owner", "ok"), "How many notes fit", "")
	f.Play(`
		owner: 2000
		owner: 40
		owner: 100
		owner: [Notes stay in]
		owner: [No limit]
	`)
	f.Expect(f.Says("owner", "mon-sat 9-2"), "Mon-Sat 09:00-14:00, Sun closed? I read it so.", "")
	f.Expect(f.Says("owner", "No."), "When is the shop open?", "I could not read|I read it so")
	f.Expect(f.Says("owner", "mon-sat 9-2"), "Mon-Sat 09:00-14:00, Sun closed? I read it so.", "")
	f.Expect(f.Says("owner", "yes"), "until your bank pays", "")
}

// Somebody else who writes meanwhile is told to wait; leaving asks first once
// something was answered, and says how to go on.
func TestSetUpLeft(t *testing.T) {
	f := claimed(t)
	f.Shop.People[0].Name = "Ada"
	f.Expect(f.Says("staff1", "hello"), "This shop is not set up yet.", "")
	f.Says("owner", "hello")
	for several, want := range map[bool]string{
		false: "Write anything to begin again.", true: "Write switch to go back",
	} {
		f.Says("owner", "hello")
		f.Knows = nil
		if several {
			f.Knows = func(facts *chat.Facts) { facts.Several = true }
		}
		if said := f.Chooses("owner", "cancel"); !strings.Contains(said, want) {
			t.Errorf("several %t:\n%s", several, said)
		}
	}
}
