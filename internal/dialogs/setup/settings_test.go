package setup_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// asking is a floor where an owner is asked one of the settings again.
func asking(t *testing.T, label string) *floor.Floor {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "settings")
	f.Taps("owner", "Change")
	f.Taps("owner", label)
	return f
}

// What cannot be meant is refused with the bounds, and asked again.
func TestAnswersRefused(t *testing.T) {
	for _, x := range []struct{ label, typed, said string }{
		{"Shop", strings.Repeat("x", 31), "1 to 30 letters"},
		{"Shop", "\x00", "1 to 30 letters"},
		{"Country", "Atlantis", "I don't know that country."},
		{"Country", "Z", "I don't know that country."},
		{"Country", "Z1", "I don't know that country."},
		{"Clock", "Cork", "I don't know that clock."},
		{"Clock", "Europe/Nowhere", "I don't know that clock."},
		{"Clock", "Europe/../Dublin", "I don't know that clock."},
		{"Clock", "Europe/" + strings.Repeat("x", 40), "I don't know that clock."},
		{"Note boxes", "50 x", `I could not read "x"`},
		{"Note boxes", ";", "1 to 12 boxes"},
		{"Note boxes", strings.Repeat("50 ", 13), "1 to 12 boxes"},
		{"Notes that fit", "0", "3 numbers, from 1 to 10,000 notes"},
		{"Notes that fit", "10001", "3 numbers, from 1 to 10,000 notes"},
		{"Notes that fit", "2000 2000", "3 numbers, from 1 to 10,000 notes"},
		{"Notes that fit", "many", "3 numbers, from 1 to 10,000 notes"},
		{"Nearly empty at", "2000 40 40", "3 numbers, each below the notes that fit"},
		{"Nearly empty at", "40 40 2000", "3 numbers, each below the notes that fit"},
		{"Nearly empty at", "-1", "3 numbers, each below the notes that fit"},
		{"Notes in a bundle", "100 50", "one for each: 50s, 20s, 10s"},
		{"Notes in a bundle", "0", "one for each: 50s, 20s, 10s"},
		{"At night", "nothing", "Please tap one of the buttons."},
		{"Most cash inside", "0", "I could not read that as money."},
		{"Most cash inside", "12.3456", "I could not read that as money."},
		{"Most cash inside", "plenty", "I could not read that as money."},
		{"Open", "whenever", "I could not read these hours."},
		{"Open", "sun closed", "I could not read these hours."},
		{"Bank pays after", "31", "from 0 to 30"},
		{"Bank pays after", "soon", "from 0 to 30"},
		{"Bank's cut-off", "25:00", "Type a time of day"},
		{"Bank's cut-off", "0:00", "Type a time of day"},
		{"Bank's cut-off", "18:00 or so", "Type a time of day"},
		{"From a weekend", "perhaps", "Please tap one of the buttons."},
	} {
		f := asking(t, x.label)
		at := f.State("owner").Step
		said := f.Says("owner", x.typed)
		if !strings.Contains(said, x.said) || f.State("owner").Step != at {
			t.Errorf("%s %q: at %q\n%s", x.label, x.typed, f.State("owner").Step, said)
		}
	}
}

// What is typed or tapped is laid down, just so and nothing else.
func TestAnswersLaidDown(t *testing.T) {
	for _, x := range []struct {
		label, typed string
		change       func(*shop.Settings)
	}{
		{"Shop", " " + strings.Repeat("x", 30), func(s *shop.Settings) { s.Name = strings.Repeat("x", 30) }},
		{"At night", "they stay inside", func(s *shop.Settings) { s.Nightly, s.SafeOpen = false, false }},
		{"Bank pays after", "after two working days", func(s *shop.Settings) { s.CreditDays = 2 }},
		{"Bank pays after", "no idea", func(s *shop.Settings) { s.CreditDays = 0 }},
		{"Clock", "Europe/London", func(s *shop.Settings) { s.Zone = "Europe/London" }},
		{"Nearly empty at", "1999 0 40", func(s *shop.Settings) {
			b := s.Machines[0].Boxes
			b[0].Low, b[1].Low, b[2].Low = 1999, 0, 40
		}},
		{"Notes in a bundle", "10000 100 1", func(s *shop.Settings) {
			s.Bundles[0].Notes, s.Bundles[2].Notes = 10_000, 1
		}},
		{"At night", "Notes stay in", func(s *shop.Settings) { s.Nightly, s.SafeOpen = false, false }},
		{"At night", "Emptied, safe locked", func(s *shop.Settings) { s.SafeOpen = false }},
		{"Most cash inside", "12,345.50", func(s *shop.Settings) {
			s.Limit = decimal.RequireFromString("12345.5")
		}},
		{"Most cash inside", "No limit", func(s *shop.Settings) { s.Limit = decimal.Zero }},
		{"Open", "mon-sun 9-18", func(s *shop.Settings) {
			for d := range s.Hours {
				s.Hours[d] = shop.Hours{Open: 9 * 60, Close: 18 * 60}
			}
		}},
		{"Bank pays after", "30", func(s *shop.Settings) { s.CreditDays = 30 }},
		{"Bank pays after", "I don't know yet", func(s *shop.Settings) { s.CreditDays = 0 }},
		{"Bank's cut-off", "18:00", func(s *shop.Settings) { s.CreditCut = 18 * 60 }},
		{"From a weekend", "Of Sat 28 Nov: pays Tue 1 Dec", func(s *shop.Settings) { s.CreditRoll = true }},
		{"Lock", "Keypad", func(s *shop.Settings) { s.Machines[0].Lock = "electronic" }},
		{"Try-out payout", "No", func(s *shop.Settings) { s.Machines[0].TestDispense = false }},
	} {
		f := asking(t, x.label)
		f.Says("owner", x.typed)
		if said := f.Taps("owner", "Confirm"); !strings.Contains(said, "Saved, 06:40: "+x.label+".") {
			t.Errorf("%s %q:\n%s", x.label, x.typed, said)
			continue
		}
		want := shop.Example()
		m := &want.Machines[0]
		want.CreditHow, m.Lock, m.Prints = "unknown", "key", "both" // as nobody has said otherwise
		x.change(&want)
		if got := asJSON(t, *f.Last.Settings); got != asJSON(t, want) {
			t.Errorf("%s %q: laid down\n%s\nwant\n%s", x.label, x.typed, got, asJSON(t, want))
		}
		told := f.Last.Replies[0]
		if !told.To.Managers && told.To.Person == 0 && !told.To.Others {
			t.Errorf("%s: nobody is told", x.label)
		}
	}
}

// The days until the bank pays bring its rule with them, told by an example: the
// first bank day after Saturday 28 November is Monday, or Tuesday where Saturday's
// figures count as Monday's.
func TestBankRule(t *testing.T) {
	f := asking(t, "From a weekend")
	labels := []string{"Of Sat 28 Nov: pays Mon 30 Nov", "Of Sat 28 Nov: pays Tue 1 Dec"}
	for _, label := range labels {
		if _, ok := f.Button("owner", label); !ok {
			t.Errorf("%q is not offered:\n%s", label, f.Out.String())
		}
	}
	f.At("2026-11-28 10:00") // a Saturday is its own example
	f.Says("owner", "cancel")
	f.Says("owner", "settings")
	f.Taps("owner", "Change")
	if said := f.Taps("owner", "From a weekend"); !strings.Contains(said, labels[1]) {
		t.Errorf("on a Saturday:\n%s", said)
	}
	f.Says("owner", "cancel")
	f.Shop.CreditDays = 0
	f.Says("owner", "settings")
	f.Expect(f.Taps("owner", "Change"), "Bank pays after", "cut-off|weekend")
	f.Taps("owner", "Bank pays after")
	f.Says("owner", "The next day")
	f.Taps("owner", "Confirm")
	if f.Last.Settings == nil || f.Last.Settings.CreditDays != 1 {
		t.Errorf("the next day is not one bank day:\n%s", f.Out.String())
	}
}

// Other boxes are asked for in full, keep what the machine usually holds where
// they stay, leave the bundles of kinds that go, and count from the next opening.
func TestOtherBoxes(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(`
		staff1: open 40 150 200
		staff1: [Confirm]
		owner: settings
		owner: [Change]
		owner: [Note boxes]
		owner: 50 50
		owner: 1500
	`)
	if at := f.State("owner").Step; at != "low" {
		t.Fatalf("at %q:\n%s", at, f.Out.String())
	}
	f.Expect(f.Says("owner", "20"), "50s: 100", "20s")
	review := f.Taps("owner", "50s: 100")
	for _, part := range []string{
		"This changes:", "Note boxes: 50s, 50s", "Notes that fit: 1500 1500", "Nearly empty at: 20 20",
		"Notes in a bundle: 100",
		"The machine is open. The other boxes count from the next opening on.",
	} {
		if !strings.Contains(review, part) {
			t.Errorf("%q is missing in\n%s", part, review)
		}
	}
	f.Expect(f.Taps("owner", "Confirm"), "from the next opening on", "")
	want := []shop.Box{{Position: 1, Face: "50", Capacity: 1500, Low: 20, Usual: 40},
		{Position: 2, Face: "50", Capacity: 1500, Low: 20}}
	if got := f.Last.Settings; !slices.Equal(got.Machines[0].Boxes, want) || len(got.Bundles) != 3 {
		t.Errorf("laid down %+v, bundles %v", got.Machines[0].Boxes, got.Bundles)
	}
}

// Fewer notes that fit ask again when a box is nearly empty.
func TestCapacityAsksLowAgain(t *testing.T) {
	f := asking(t, "Notes that fit")
	if said := f.Says("owner", "1,500; 1600; 1700"); !strings.Contains(said, "nearly empty") ||
		!strings.Contains(said, "[30, 32, 34]") { // two of a hundred
		t.Errorf("after the notes that fit:\n%s", said)
	}
	f = asking(t, "Notes that fit")
	f.Says("owner", "20")
	f.Taps("owner", "1")
	f.Taps("owner", "Confirm")
	if b := f.Last.Settings.Machines[0].Boxes; b[0].Capacity != 20 || b[2].Low != 1 {
		t.Errorf("laid down %+v", b)
	}
}

// Settings that are only looked at are left without a word; those that were
// changed ask first. What is as before again is no change.
func TestSettingsLeft(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Says("owner", "settings"), "The shop. This is laid down:|[Hours and safe]", "[Confirm]|Most cash")
	f.Expect(f.Taps("owner", "Hours and safe"), "Most cash inside: €40,000|[The shop]", "[Confirm]|Country")
	if said := f.Says("owner", "people"); strings.Contains(said, "Leave") {
		t.Errorf("asks first:\n%s", said)
	}
	f = asking(t, "Most cash inside")
	f.Expect(f.Says("owner", "50000"), "This changes:|Most cash inside: €50,000", "")
	f.Expect(f.Says("owner", "people"), "Leave", "")
	f.Taps("owner", "Go on")
	f.Taps("owner", "Change")
	f.Taps("owner", "Most cash inside")
	if said := f.Says("owner", "40,000.00"); strings.Contains(said, "[Confirm]") {
		t.Errorf("the same amount is taken for another:\n%s", said)
	}
	f.Taps("owner", "Change")
	f.Taps("owner", "Shop")
	f.Chooses("owner", "same")
	if f.Chooses("owner", "confirm"); f.Last.Settings != nil {
		t.Error("a card without a change lays down a version")
	}
}

// A machine more is asked for in full and stands beside the others.
func TestAnotherMachine(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(`
		owner: settings
		owner: [Add a machine]
		owner: Hall
		owner: 50 20 10
		owner: 2000
		owner: 10 30 40
		owner: 100
		owner: [Notes only]
		owner: [Dial]
	`)
	said := f.Taps("owner", "No")
	for _, part := range []string{"This changes:", "Machine: Hall", "Note boxes: 50s, 20s, 10s",
		"Notes that fit: 2000", "Nearly empty at: 10 30 40", "Notes in a bundle: 100", "Slip shows: Notes only",
		"[Confirm]"} {
		if !strings.Contains(said, part) {
			t.Errorf("%q is missing in\n%s", part, said)
		}
	}
	if strings.Contains(said, "next opening") || slices.Contains(f.Choices("owner"), "machine") {
		t.Errorf("a third one:\n%s", said)
	}
	f.Taps("owner", "Confirm")
	f.LayDown()
	if len(f.Shop.Machines) != 2 || f.Shop.Machines[0].Name != "Cash machine" ||
		f.Shop.Machines[1].Name != "Hall" || f.Shop.Machines[1].Prints != "notes" ||
		f.Shop.Machines[1].Boxes[1].Capacity != 2000 || f.Shop.Machines[1].LargestDispense != 40 {
		t.Errorf("laid down %+v", f.Shop.Machines)
	}
}

// Only managers see settings.
func TestSettingsRights(t *testing.T) {
	f := floor.New(t, dialogs.New)
	if said := f.Says("staff1", "settings"); strings.Contains(said, "laid down") {
		t.Errorf("staff:\n%s", said)
	}
}
