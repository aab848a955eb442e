package dialogs_test

import (
	"strings"
	"testing"
)

// A guide begun by mistake is no fault: it is off the list and not counted.
func TestItWasNothing(t *testing.T) {
	f := newFloor(t)
	f.Play(openDay + "staff1: guides; [Notes are\nstaff1: [Stop this guide]")
	if back := f.Says("staff1", "faults"); !strings.Contains(back, "not solved yet") ||
		strings.Contains(back, "1 fault  out of service 0 min") {
		t.Errorf("an open fault:\n%s", back)
	}
	f.Play("staff1: guides; [Notes are\nstaff1: [Stop this guide]")
	if back := f.Play("staff1: [It was nothing]"); !strings.Contains(back, "begun by mistake") {
		t.Errorf("got\n%s", back)
	}
	if f.Machine.Faults[0].Unsolved() {
		t.Error("it is not off the list")
	}
	if back := f.Says("staff1", "faults"); !strings.Contains(back, "begun by mistake") ||
		strings.Contains(back, "1 fault") || strings.Contains(back, "not solved") {
		t.Errorf("on record as\n%s", back)
	}
}
