package guides_test

import (
	"testing"

	"shopfloat/internal/guides"
)

func TestInjury(t *testing.T) {
	for _, text := range []string{
		"i cut my finger", "finger trapped", "somebody bleeding", "customer fainted", "call ambulance",
		"finger trapped in machine", "the machine fell on me",
		"My hand is stuck in the machine", "hand caught in the shutter",
		"she is hurt", "he burnt himself", "cassette dropped on my foot", "hurt my back lifting",
		"a customer fell over", "colleague is injured",
		"we need a doctor", "Can't breathe", "hair caught in rollers",
	} {
		if !guides.Injury(text) {
			t.Errorf("%q passes", text)
		}
	}
	for _, text := range []string{
		"open 40 150 200", "close 12 60 80",
		"note stuck", "notes stuck at the back", "print head broken",
		"the machine died", "i opened it by accident",
		"handle broken", "cut note", "arm of the door broken",
		"cash in hand", "note has blood on it",
		"a note fell on the floor", "a note fell down behind it", "doctor's note",
	} {
		if guides.Injury(text) {
			t.Errorf("%q is taken for an injury", text)
		}
	}
}

func TestBurning(t *testing.T) {
	for _, text := range []string{
		"fire", "FIRE!!", "help fire",
		"the machine is on fire", "there is a fire", "shop in flames", "smell of gas",
		"it caught fire", "there are flames", "something exploded",
		"there is a bomb", "i smell gas", "we have fire!",
	} {
		if !guides.Burning(text) {
			t.Errorf("%q passes", text)
		}
	}
	for _, text := range []string{
		"smoke from the back", "there is fire smell behind cashpoint",
		"do we sell firelighters", "fire alarm test",
		"who do i fire", "there is a fire door", "burnt smell",
		"burnt note", "gas bill", "we have fire drill tomorrow",
	} {
		if guides.Burning(text) {
			t.Errorf("%q is taken for a fire", text)
		}
	}
}

// What people say for a guide is no injury, but for what violence does.
func TestInjuryLeavesTheGuidesAlone(t *testing.T) {
	lib, err := guides.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range lib.IDs() {
		g, _ := lib.Guide(id)
		for _, asked := range g.Asked {
			if guides.Injury(asked) && id != "robbery" && id != "contact" {
				t.Errorf("%s: %q", id, asked)
			}
			if guides.Burning(asked) && id != "power" && id != "robbery" && id != "tampering" {
				t.Errorf("%s: %q", id, asked)
			}
		}
	}
}
