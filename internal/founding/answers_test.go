package founding_test

import (
	"reflect"
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/founding"
	"shopfloat/internal/shop"
)

func example(t *testing.T) *shop.Shop {
	t.Helper()
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A manager who looks at the settings and changes nothing changes nothing: what was laid
// down as unsaid is told by its usual answer, and all else stays as it is.
func TestLookingChangesNothing(t *testing.T) {
	s := example(t)
	s.Region, s.CreditHow, s.BankLook = "DUB", "each", shop.LooksWeekly
	s.CreditCut, s.CreditRoll, s.TwoPersons, s.OwnCorrect = 18*60, true, true, true
	s.Tolerance = []shop.FaceNotes{{Face: "50", Notes: 2}}
	s.Machines[0].Lock, s.Machines[0].Prints = "dial", "money"
	for name, change := range map[string]func(){
		"as it is":     func() {},
		"notes stay":   func() { s.Nightly, s.SafeOpen = false, false },
		"safe locked":  func() { s.Nightly, s.SafeOpen = true, false },
		"not euro":     func() { s.Currency, s.Checked = "GBP", false },
		"looked daily": func() { s.BankLook = "" },
	} {
		change()
		answers := founding.Present(s, &s.Machines[0])
		if got := answers.Over(s.Settings, &s.Machines[0]); !reflect.DeepEqual(got, s.Settings) {
			t.Errorf("%s:\n%+v, was\n%+v", name, got, s.Settings)
		}
	}
}

// What nobody said yet has its usual answer; a shop is told of without its machine too.
func TestUsualAnswers(t *testing.T) {
	s := example(t)
	got := founding.Present(s, &s.Machines[0])
	for what, answer := range map[string][2]string{
		"how the bank pays":    {*got.CreditHow, "unknown"},
		"how often it is seen": {*got.BankLook, shop.LooksDaily},
		"lock":                 {*got.Lock, "key"},
		"slip":                 {*got.Prints, "both"},
		"night":                {string(*got.Night), string(founding.Open)},
	} {
		if answer[0] != answer[1] {
			t.Errorf("%s: %q, want %q", what, answer[0], answer[1])
		}
	}
	if !slices.Equal(*got.Bundle, []int64{100, 100, 100}) || !slices.Equal(*got.Low, []int64{10, 30, 40}) {
		t.Errorf("bundles %v, low %v", *got.Bundle, *got.Low)
	}
	alone := founding.Present(s, nil)
	if alone.Machine != nil || alone.Boxes != nil || *alone.Shop != s.Name {
		t.Errorf("a shop without its machine: %+v", alone)
	}
}

func of[T any](v T) *T { return &v }

// Answers of a first set-up come to settings that the program takes, with what follows
// from them: euro notes are checked (Regulation (EC) 1338/2001, article 6), the rest of a
// machine is as usual, a machine is numbered by the store.
func TestFirstSetUp(t *testing.T) {
	d := founding.Answers{Shop: of("Corner"), Country: of("IE"), Zone: of("Europe/Dublin"), Currency: of("EUR"),
		Machine: of("Till side"), Boxes: of([]cashmath.Face{"50", "20", "20"}),
		Capacity: of([]int64{1000, 2000, 2000}), Low: of([]int64{10, 20}), Bundle: of([]int64{100, 50}),
		Night: of(founding.Locked), Limit: of(decimal.NewFromInt(9000)), BankLook: of(shop.LooksDaily)}
	if got := d.Faces(); !slices.Equal(got, []cashmath.Face{"50", "20"}) {
		t.Errorf("kinds of note: %v", got)
	}
	got := d.Over(shop.Settings{Fresh: true}, &shop.Machine{})
	if _, err := shop.New(1, 1, got); err != nil {
		t.Fatal(err)
	}
	if !got.Checked || !got.Nightly || got.SafeOpen || got.BankLook != "" || len(got.Machines) != 1 {
		t.Errorf("%+v", got)
	}
	want := []shop.Box{{Position: 1, Face: "50", Capacity: 1000, Low: 10},
		{Position: 2, Face: "20", Capacity: 2000, Low: 20}, {Position: 3, Face: "20", Capacity: 2000}}
	if m := got.Machines[0]; !slices.Equal(m.Boxes, want) || m.LargestDispense != 40 || m.Name != "Till side" {
		t.Errorf("%+v", m)
	}
	bundles := []shop.FaceNotes{{Face: "50", Notes: 100}, {Face: "20", Notes: 50}}
	if !slices.Equal(got.Bundles, bundles) {
		t.Errorf("bundles: %v", got.Bundles)
	}
	d.Currency, d.Night = of("SEK"), of(founding.Stay)
	if got := d.Over(shop.Settings{}, &shop.Machine{LargestDispense: 25}); got.Checked || got.Nightly ||
		got.SafeOpen || got.Machines[0].LargestDispense != 25 {
		t.Errorf("elsewhere nothing is known of checking: %+v", got)
	}
}

// Boxes that are put in another order lose what is usual in them, the others keep it;
// bundles of kinds that are in no box any more stay laid down; nothing that was in force
// before is written into.
func TestBoxesChanged(t *testing.T) {
	s := example(t)
	was := s.Machines[0]
	before := slices.Clone(s.Bundles)
	d := founding.Present(s, &was)
	d.Boxes, d.Bundle = of([]cashmath.Face{"50", "5", "20"}), of([]int64{100, 50, 200})
	got := d.Over(s.Settings, &was)
	usual := []int64{}
	for _, b := range got.Machines[0].Boxes {
		usual = append(usual, b.Usual)
	}
	if !slices.Equal(usual, []int64{40, 0, 0}) {
		t.Errorf("usual loads: %v", usual)
	}
	want := []shop.FaceNotes{{Face: "50", Notes: 100}, {Face: "20", Notes: 50}, {Face: "10", Notes: 100},
		{Face: "5", Notes: 200}} // in the order of the kinds in the draft: 50, 20, 5
	if !slices.Equal(got.Bundles, want) {
		t.Errorf("bundles: %v", got.Bundles)
	}
	if !slices.Equal(s.Bundles, before) || s.Machines[0].Boxes[1].Face != "20" {
		t.Errorf("what was in force: %v, %+v", s.Bundles, s.Machines[0].Boxes)
	}
}

// Another machine is asked about from the start, in the same shop, and is added to the one
// that is there.
func TestAnotherMachine(t *testing.T) {
	s := example(t)
	d := founding.Present(s, &s.Machines[0])
	d.AnotherMachine()
	if !d.NewMachine || d.Machine != nil || d.Boxes != nil || d.Capacity != nil || d.Low != nil ||
		d.Bundle != nil || d.Lock != nil || d.Prints != nil || d.Trial != nil {
		t.Errorf("something is known of it: %+v", d)
	}
	d.Machine, d.Boxes, d.Capacity = of("Back room"), of([]cashmath.Face{"20"}), of([]int64{1500})
	got := d.Over(s.Settings, &shop.Machine{})
	if len(got.Machines) != 2 || got.Machines[0].Name != "Cash machine" || got.Machines[1].Name != "Back room" ||
		got.Name != s.Name {
		t.Errorf("%+v", got.Machines)
	}
}

// An answer that was not given is the zero value.
func TestSaid(t *testing.T) {
	if founding.Said[string](nil) != "" || founding.Said(of(7)) != 7 {
		t.Error("an answer is not what was said")
	}
}
