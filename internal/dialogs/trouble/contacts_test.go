package trouble_test

import (
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

func TestContacts(t *testing.T) {
	long := strings.Repeat("x", shop.AdviceMax+1)
	tell(t, []story{
		{"shown", "staff1: contacts", "Emergency: 112|No number yet: |Provider|Ask the manager", "[Change]"},
		{"shown to managers", "owner: contacts", "No number yet: |Bank; Insurance.|[Change]", "Ask the manager"},
		{"not for staff", "staff1: change contacts", "not part of your role", "Which one"},
		{"which", "owner: contacts; [Change]",
			"Which one?|[Provider]|[How long a restart takes]|[What the provider says]", ""},
		{"a number", "owner: change contacts; [Provider]; +000 1 555 0100",
			"Provider: +000 1 555 0100|[Confirm]", ""},
		{"three digits", "owner: change contacts; [Provider]; 123", "[Confirm]", ""},
		{"two digits", "owner: change contacts; [Provider]; 12", "no telephone number", "[Confirm]"},
		{"sixteen digits", "owner: change contacts; [Provider]; 1234567890123456", "no telephone number",
			"[Confirm]"},
		{"fifteen digits", "owner: change contacts; [Provider]; 123456789012345", "[Confirm]", ""},
		{"words", "owner: change contacts; [Provider]; 555 call", "no telephone number", "[Confirm]"},
		{"a plus within", "owner: change contacts; [Provider]; 1+555", "no telephone number", "[Confirm]"},
		{"back", "owner: change contacts; [Provider]; [Back]", "Which one?", ""},
		{"nothing to take out", "owner: change contacts; [Provider]", "type the number", "[No number]"},
		{"minutes", "owner: change contacts; [How long]; 25 minutes", "restart takes: 25|[Confirm]", ""},
		{"minutes asked", "owner: change contacts; [How long]", "taken to last 10 minutes|[Back]", "[No number]"},
		{"no minutes", "owner: change contacts; [How long]; 0", "from 1 to", "[Confirm]"},
		{"too many", "owner: change contacts; [How long]; 999", "from 1 to", "[Confirm]"},
		{"minutes, then a number", "owner: change contacts; [How long]; 25; [Change]; [Bank]; 5550",
			"Bank: 5550", "25"},
		{"advice", "owner: change contacts; [What the provider]; [Notes are stuck",
			"type what the provider says|[Back]", "[Take it out]"},
		{"advice read back", "owner: change contacts; [What the provider]; [Notes are stuck; Ring us first.",
			"Notes are stuck in the machine: “Ring us first.”|[Confirm]", ""},
		{"advice too long", "owner: change contacts; [What the provider]; [Notes are stuck; " + long,
			"letters. At most", "[Confirm]"},
		{"leaving asks", "owner: change contacts; [Provider]; 5550; owed", "Provider: 5550", ""},
	})
}

// What is confirmed is laid down, and what is taken out goes; all else stays.
func TestNumbersAreLaidDown(t *testing.T) {
	for _, x := range []struct {
		script string
		check  func(*shop.Settings) bool
	}{
		{"[Provider]; 5550", func(s *shop.Settings) bool {
			return s.Call("provider") == "5550" &&
				s.Call("bank") == "0 1"
		}},
		{"[Bank]; [No number]", func(s *shop.Settings) bool { return s.Call("bank") == "" && len(s.Numbers) == 0 }},
		{"[Bank]; 0 223", func(s *shop.Settings) bool { return s.Call("bank") == "0 223" && len(s.Numbers) == 1 }},
		{"[How long]; 25", func(s *shop.Settings) bool {
			return s.Machines[0].RestartMinutes == 25 &&
				len(s.Numbers) == 1
		}},
		{"[What the provider]; [Notes are stuck; Ring.", func(s *shop.Settings) bool {
			return len(s.Advice) == 2 && s.Advice[1] == shop.Advice{Topic: "note-jam", Text: "Ring."}
		}},
		{"[What the provider]; [The machine has no; [Take it out]",
			func(s *shop.Settings) bool { return len(s.Advice) == 0 }},
		{"[What the provider]; [The machine has no; Wait.", func(s *shop.Settings) bool {
			return len(s.Advice) == 1 && s.Advice[0].Text == "Wait."
		}},
	} {
		f := morning(t)
		f.Shop.Numbers = []shop.Number{{Who: "bank", Number: "0 1"}}
		f.Shop.Advice = []shop.Advice{{Topic: "offline", Text: "Look."}}
		f.Play("owner: change contacts; " + x.script)
		confirm, _ := f.Button("owner", "Confirm")
		res := f.Does("owner", chat.Input{Kind: chat.Press, Tap: confirm.Data})
		if res.Settings == nil || !x.check(res.Settings) {
			t.Errorf("%q lays down %+v", x.script, res.Settings)
		}
		if f.Shop.Machines[0].RestartMinutes != 0 || len(f.Shop.Advice) != 1 || f.Shop.Call("bank") != "0 1" {
			t.Errorf("%q changed the settings at hand", x.script)
		}
	}
}

// The provider's own words come first in the guide, and its number at the end.
func TestWhatTheProviderSays(t *testing.T) {
	f := morning(t)
	f.Shop.Numbers = []shop.Number{{Who: "provider", Number: "5550"}}
	f.Shop.Advice = []shop.Advice{{Topic: "note-jam", Text: "Ring us first."}}
	f.Expect(f.Says("staff1", "notes are stuck"), "Your provider says, and it comes first: “Ring us first.”", "")
	f.Expect(f.Taps("staff1", "Smoke"), "Provider: 5550", "no number")
	f.Expect(f.Play("owner: change contacts; [What the provider]; [Notes are stuck"),
		"Now it is: “Ring us first.”|[Take it out]", "")
}
