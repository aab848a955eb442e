package people_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// Somebody leaves: cut off at once, records kept, the shop's keys and codes ticked
// off by the owner, and what they recorded lately is looked through.
func TestLeaving(t *testing.T) {
	f := crowd(t)
	f.Shop.Machines = append(f.Shop.Machines, shop.Machine{ID: 2, Name: "Hall"})
	var did []chat.Did
	for i := range 8 {
		did = append(did, chat.Did{Machine: shop.MachineID(1 + i%2), Seq: int64(i + 1), Kind: books.Opening,
			Happened: f.Now.Add(time.Duration(i-9) * time.Minute)})
	}
	knows := f.Knows
	f.Knows = func(facts *chat.Facts) {
		knows(facts)
		facts.Ask.Did = func(by shop.PersonID, since time.Time) []chat.Did {
			if by != 2 || !since.Equal(f.Now.Add(-7*24*time.Hour)) {
				t.Errorf("asked for what %d did since %s", by, since)
			}
			return slices.Clone(did)
		}
	}
	f.Shop.People[1].Deputy = true
	f.Play("owner: people\nowner: [Ben]")
	f.Expect(f.Taps("owner", "No longer works here"), "Ben no longer works here?|[Yes, remove]|[Back]", "")
	f.Expect(f.Taps("owner", "Back"), "[Change role]", "")
	f.Taps("owner", "No longer works here")
	said := f.Taps("owner", "Yes, remove")
	f.Expect(said, "Ben has left.|- keys given back|- alarm code changed|Ben no longer belongs to the shop.|"+
		"06:38 opening, Hall\n  06:37 opening, Cash machine|06:33 opening, Cash machine", "06:32")
	if s := f.Last.Settings; f.Last.Remove != 2 || len(s.People) != 4 || len(s.Former) != 1 ||
		s.Former[0] != (shop.Person{ID: 2, Name: "Ben", Role: shop.Staff}) {
		t.Errorf("removed %d: %+v, %+v", f.Last.Remove, s.People, s.Former)
	}
	f.LayDown()
	f.Expect(f.Taps("owner", "Next"), "06:32 opening, Hall|06:31 opening, Cash machine", "06:33|[Next")
	f.Expect(f.Taps("owner", "Safe: done"),
		"Done: safe combination changed|- keys given back|[Alarm: done]", "[Safe")
	f.Expect(f.Taps("owner", "Alarm: done"), "Done: safe|Done: alarm|[Keys: done]", "- alarm")
	f.Expect(f.Taps("owner", "Seen"), "Done.", "")
}

// A manager who lets somebody go leaves keys and codes to the owners.
func TestLeaverCardGoesToOwners(t *testing.T) {
	f := crowd(t)
	as(f, 4)
	f.Play("staff1: people\nstaff1: [Cleo]\nstaff1: [No longer works here]\nstaff1: [Yes, remove]")
	card := f.Last.Replies[0]
	if card.To.Person != 1 || card.Key != "leaver-3" || len(card.Buttons) != 3 {
		t.Errorf("card %+v", card)
	}
	if out := f.Out.String(); !strings.HasSuffix(out, "Nothing was recorded in the last seven days.\n") {
		t.Errorf("at the end\n%s", out)
	}
}

// A button of a card about a leaver that was not made so does nothing.
func TestLeaverTaps(t *testing.T) {
	f := crowd(t)
	f.Shop.Former = []shop.Person{{ID: 9, Role: shop.Staff}}
	for arg, want := range map[string]string{
		"9.0.0": "has left.", "9.5.1": "Done: safe", "9.8.0": "", "9.0.3": "", "9.0": "", "x.0.0": "", "77.0.0": "",
		"9.-1.0": "",
	} {
		said := f.Press("owner", chat.Button{Data: "o:leaver:" + arg})
		if want == "" {
			f.Expect(said, "That button does not work any more.", "has left")
			continue
		}
		f.Expect(said, want+"|Person ", "")
	}
}

// Only an owner takes a name out of the file, and only of somebody who left.
func TestErase(t *testing.T) {
	f := crowd(t)
	f.Shop.Former = []shop.Person{{ID: 9, Name: "Gus", Role: shop.Staff}, {ID: 10, Role: shop.Staff}}
	f.Says("owner", "people")
	f.Expect(f.Taps("owner", "People who left"), "Whose name should go?|[Gus]", "")
	f.Expect(f.Taps("owner", "Gus"), "Erase the name Gus everywhere?|[Yes, erase]", "")
	f.Expect(f.Taps("owner", "Back"), "Whose name should go?", "")
	f.Expect(f.Taps("owner", "Back"), "Who works here:", "")
	f.Taps("owner", "People who left")
	f.Taps("owner", "Gus")
	if f.Expect(f.Taps("owner", "Yes, erase"), "Erased. Records say Person ", "Gus"); f.Last.Erase != 9 {
		t.Errorf("erased %d", f.Last.Erase)
	}
	f.Play("owner: people\nowner: [People who left]\nowner: [Gus]")
	f.Shop.Former[0].Name = "" // another owner was quicker
	f.Says("owner", "people")
	if f.State("owner").Step != "list" {
		t.Errorf("at %q once nobody is left with a name", f.State("owner").Step)
	}
	f.Shop.Former[0].Name = "Gus"
	f.Play("owner: people\nowner: [People who left]\nowner: [Gus]")
	f.Shop.People[0].Role, f.Shop.People[3].Role = shop.Manager, shop.Owner
	if f.Chooses("owner", "yes"); f.Last.Erase != 0 {
		t.Error("somebody who is no owner any more erases a name")
	}
	f.Says("owner", "cancel")
	f.Expect(f.Says("owner", "people"), "Who works here:", "[People who left]")
}

// Those who left are listed from the first page on, whatever page of the people was
// looked at.
func TestFormerFromTheFirstPage(t *testing.T) {
	f := crowd(t)
	f.Shop.Former = []shop.Person{{ID: 9, Name: "Gus", Role: shop.Staff}}
	for id := range shop.PersonID(3) {
		f.Shop.People = append(f.Shop.People, shop.Person{ID: 20 + id, Name: "Finn", Role: shop.Staff})
	}
	f.Says("owner", "people")
	f.Taps("owner", "Next")
	f.Expect(f.Taps("owner", "People who left"), "[Gus]", "")
	f.Expect(f.Taps("owner", "Back"), "[Ada]", "")
}

// Whoever left meanwhile is not on the list any more, whatever card stands open.
func TestLeftMeanwhile(t *testing.T) {
	for _, step := range []string{"", "Change role", "No longer works here"} {
		f := crowd(t)
		f.Play("owner: people\nowner: [Cleo]")
		if step != "" {
			f.Taps("owner", step)
		}
		f.Shop.People = slices.Delete(f.Shop.People, 2, 3)
		for _, choice := range []string{"role-manager", "role", "yes"} {
			if f.Chooses("owner", choice); f.Last.Settings != nil || f.Last.Remove != 0 {
				t.Errorf("at %q, %s changes somebody who left", step, choice)
			}
		}
		f.Expect(f.Says("owner", "people"), "Who works here:", "Cleo")
	}
}
