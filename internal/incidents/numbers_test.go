package incidents_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/guides"
	"shopfloat/internal/incidents"
	"shopfloat/internal/shop"
)

// Whom to ring: the emergency number first and by the country; whoever has no number yet stands in
// one line, which sends only those to the manager who cannot enter it.
func TestContacts(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Numbers = []shop.Number{{Who: "provider", Number: "5550 100"}, {Who: "emergency", Number: "5550 999"}}
	for change, who := range map[bool]string{false: "staff1", true: "owner"} {
		got := incidents.Contacts(teller(f, who), change).Text
		lines := strings.Split(got, "\n")
		if len(lines) != 4 || !strings.HasSuffix(lines[1], ": 112") ||
			strings.Count(lines[3], ";") != len(guides.Contacts())-2 {
			t.Errorf("%q", got)
		}
		floor.Expect(t, got, ": 5550 100|No number yet: Manager; ", "5550 999")
		if strings.Contains(got, "Ask the manager") == change {
			t.Errorf("%s: %q", who, got)
		}
	}
}

// What is laid down for trouble is named, read back and written into the settings, each in
// its own place and nothing else.
func TestNumber(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Numbers = []shop.Number{{Who: "bank", Number: "5550 200"}}
	f.Shop.Advice = []shop.Advice{{Topic: "offline", Text: "Wait"}}
	tell := teller(f, "owner")
	for name, s := range map[string]struct {
		number      incidents.Number
		label, read string
		laidDown    func(shop.Settings) bool
	}{
		"a number": {incidents.Number{Who: "provider", Value: "5550 100"}, tell.V.Say("call.provider"),
			tell.V.Say("call.provider") + ": 5550 100", func(s shop.Settings) bool {
				return len(s.Numbers) == 2 && s.Machines[0].RestartMinutes == 0 && len(s.Advice) == 1
			}},
		"no number": {incidents.Number{Who: "bank"}, tell.V.Say("call.bank"),
			tell.V.Say("call.bank") + ": nothing from now on.", func(s shop.Settings) bool {
				return len(s.Numbers) == 0
			}},
		"a restart": {incidents.Number{Minutes: 7}, "How long a restart takes", "How long a restart takes: 7",
			func(s shop.Settings) bool { return s.Machines[0].RestartMinutes == 7 && len(s.Numbers) == 1 }},
		"advice": {incidents.Number{Topic: "offline", Value: "Ring us"}, "What the provider says",
			tell.GuideTitle("offline") + ": “Ring us”", func(s shop.Settings) bool {
				return len(s.Advice) == 1 && s.Advice[0].Text == "Ring us" && len(s.Numbers) == 1
			}},
		"no advice": {incidents.Number{Topic: "offline"}, "What the provider says",
			tell.GuideTitle("offline") + ": nothing from now on.", func(s shop.Settings) bool {
				return len(s.Advice) == 0
			}},
	} {
		if got := s.number.Label(tell); got != s.label {
			t.Errorf("%s: it is called %q, want %q", name, got, s.label)
		}
		if got := s.number.Read(tell); got != s.read {
			t.Errorf("%s: it is read as %q, want %q", name, got, s.read)
		}
		if got := s.number.Into(f.Shop.Settings, 1); !s.laidDown(got) {
			t.Errorf("%s: %+v, %+v", name, got.Numbers, got.Advice)
		}
	}
	if f.Shop.Machines[0].RestartMinutes != 0 || f.Shop.Advice[0].Text != "Wait" {
		t.Error("the settings in force were written into")
	}
}

// Minutes of a restart, and where nothing is laid down what is usual.
func TestMinutes(t *testing.T) {
	for typed, want := range map[string]int{"5": 5, " 5 min": 5, "5 Minutes": 5, "120": 120, "121": 0, "0": 0,
		"": 0, "-5": 0, "five": 0, "5 hours": 0, "99999999999999999999": 0} {
		if got, ok := incidents.Minutes(typed); ok != (want > 0) || ok && got != want {
			t.Errorf("%q: %d, %t", typed, got, ok)
		}
	}
	for want, m := range map[int]*shop.Machine{7: {RestartMinutes: 7}, guides.RestartMinutesUsual: {}} {
		if got := incidents.Restart(m); got != want {
			t.Errorf("%d, want %d", got, want)
		}
	}
	if incidents.Restart(nil) != guides.RestartMinutesUsual {
		t.Error("without a machine it is as usual")
	}
}

// Advice has a bound in letters, not in bytes, and is not empty.
func TestAdviceFits(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New), "owner")
	most := strings.Repeat("é", shop.AdviceMax)
	for typed, fits := range map[string]bool{" Ring us ": true, most: true, most + "é": false, "": false,
		"  ": false} {
		words, problem := incidents.AdviceFits(tell, typed)
		if (problem == "") != fits || fits && words != strings.TrimSpace(typed) || !fits && words != "" {
			t.Errorf("%q: %q, %q", typed, words, problem)
		}
	}
}
