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
