package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs/floor"
)

// An everyday sentence offers the command, and no guide begins.
func TestSentencesOfferCommands(t *testing.T) {
	for text, want := range map[string]string{
		"open the machine please": "[Start opening]", "please open machine": "[Start opening]",
		"How do I close the machine": "[Start closing]", "close the shop for the night": "[Start closing]",
	} {
		f := newFloor(t)
		back := f.Says("staff1", text)
		if !strings.Contains(back, want) || len(f.Entries) != 0 || f.States[floor.ChatOf("staff1")].Walk != nil {
			t.Errorf("%q is answered with\n%s", text, back)
		}
		f.Taps("staff1", strings.Trim(want, "[]"))
		if st := f.States[floor.ChatOf("staff1")]; want == "[Start opening]" && st.Flow != "open" {
			t.Errorf("%q leads to %q", text, st.Flow)
		}
	}
}

// Notes that are typed in the guide for a jam are taken as found.
func TestNotesTypedInTheJamGuide(t *testing.T) {
	f := newFloor(t)
	f.Play(openDay + "staff1: guides; [Notes are")
	f.Says("staff1", "20x2")
	if st := f.States[floor.ChatOf("staff1")]; st.Flow != "found" || st.Walk == nil {
		t.Errorf("leads to %q\n%s", st.Flow, f.Out.String())
	}
}

// A typed label of the checklist shows its card again and starts no guide.
func TestTypedHowChecked(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: [All done]")
	back := f.Says("staff1", "with a device")
	if !strings.Contains(back, "[With a device]") || f.States[floor.ChatOf("staff1")].Walk != nil {
		t.Errorf("answered with\n%s", back)
	}
}
