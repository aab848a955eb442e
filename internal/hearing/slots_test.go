package hearing

import (
	"testing"

	"shopfloat/internal/shop"
)

// What a sentence names beside what it wants; Sunday 15 November 2026.
func TestSlotsOfSentences(t *testing.T) {
	sit := closed(t)
	for _, c := range []struct{ id, text, want string }{
		{"invite", "add my nephew jonas", `{"text":"jonas"}`}, {"invite", "invite Marie", `{"text":"Marie"}`},
		{"invite", "add a colleague called Zoe", `{"text":"Zoe"}`},
		{"invite", "add somebody new", `{}`}, {"invite", "can you add a person to the shop", `{}`},
		{"invite", "sign up my brother Tom please", `{"text":"Tom"}`},
		{"hold", "leave it empty until the 20th", `{"to":"2026-11-20"}`},
		{"hold", "hold the machine until friday", `{"to":"2026-11-20"}`},
		{"hold", "no loading on the 20th", `{"date":"2026-11-20"}`},
		{"status", "who opened yesterday", `{"date":"2026-11-14"}`},
	} {
		if got := fill(c.id, c.text, sit).JSON(); got != canonical(t, c.want) {
			t.Errorf("%q: got %s, want %s", c.text, got, c.want)
		}
	}
}

// Who opened on a day that has been is told by that day; today by how the machine stands.
func TestStatusOfAPastDay(t *testing.T) {
	today := closed(t).Days.Today
	for date, want := range map[shop.Date]string{"2026-11-14": "day", today: "status", "": "status"} {
		r := Reading{Kind: Command, ID: "status", Slots: Slots{Date: date}}
		if name, _ := r.Command(today); name != want {
			t.Errorf("%q: %s", date, name)
		}
	}
}

// No figure of a sentence is dropped, and none is made of a time of day.
func TestEveryCountOfASentence(t *testing.T) {
	e, sit := ear(t), closed(t)
	for _, x := range []struct{ said, typed string }{
		{"i put 40 fifties in the top, 150 twenties in the middle and 200 tens at the bottom",
			"50s 40 20s 150 10s 200"},
		{"we added 50 twenties to the middle box and 20 fifties on top", "50s 20 20s 50"},
		{"put ten twenties in and three tens", "20s 10 10s 3"},
		{"i added 50 twenties at 10:15", "20s 50"},
		{"at 10:15 i put 50 twenties in", "20s 50"},
		{"added 50 twenties at 9", "20s 50"},
		{"added 50 twenties and 7 stamps", ""}, // it is asked again
	} {
		if got := e.Understand(x.said, sit).Readings[0].Slots.Typed(); got != x.typed {
			t.Errorf("%q: %q, want %q", x.said, got, x.typed)
		}
	}
}
