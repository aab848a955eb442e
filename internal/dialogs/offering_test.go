package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs/floor"
)

// An everyday sentence begins what it says, and no guide; nothing of it is taken for figures.
func TestSentencesBegin(t *testing.T) {
	for text, want := range map[string]string{
		"open the machine please": "Opening of", "please open machine": "Opening of",
		"How do I close the machine": "not open", "close the shop for the night": "not open",
	} {
		f := newFloor(t)
		back := f.Says("staff1", text)
		st := f.States[floor.ChatOf("staff1")]
		said := strings.Contains(back, want) && !strings.Contains(back, "could not")
		if !said || len(f.Entries) != 0 || st.Walk != nil {
			t.Errorf("%q is answered with\n%s", text, back)
		}
		if want == "Opening of" && st.Flow != "open" {
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
