package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs/floor"
)

// evening closes the day that is open, as somebody who took over.
const evening = `
	owner: close 12 60 80
	owner: [I looked: nothing there]
	owner: 50x28 20x90 10x120
	owner: none
	owner: [Confirm]
`

// closedDays plays days from their opening to their close.
func closedDays(f *floor.Floor, dates ...string) {
	for _, d := range dates {
		f.Play("@" + d + " 06:40\nowner: open 40 150 200\nowner: [Confirm]\n@" + d + " 21:00\n" + evening)
	}
}

// A dialog that somebody left open outlives its day: the others close it and
// go on. Whatever is typed or tapped then ends it, records nothing, and the next
// word is taken as usual.
func TestOutlivedDialog(t *testing.T) {
	for _, begun := range []string{"top up", "swap 20s", "borrow 5x20", "test 1 1 1", "found 2x20",
		"count now"} {
		for _, next := range []string{"20x5", "status", "[More]", "[Customers came]"} {
			f := newFloor(t)
			f.Play("@2026-11-20 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: " + begun)
			if f.States[floor.ChatOf("staff1")].Flow == "" {
				t.Fatalf("%s begins no dialog", begun)
			}
			f.Play("@2026-11-20 21:00\n" + evening)
			closedDays(f, "2026-11-21", "2026-11-23", "2026-11-24")
			f.At("2026-11-25 09:00")
			before := len(f.Entries)
			var got string
			if label, tap := strings.CutPrefix(next, "["); tap {
				got = f.Taps("staff1", strings.TrimSuffix(label, "]"))
			} else {
				got = f.Says("staff1", next)
			}
			if !strings.Contains(got, "too long ago") || f.States[floor.ChatOf("staff1")].Flow != "" ||
				len(f.Entries) != before {
				t.Errorf("%s, then %s: %d records, in %q:\n%s", begun, next, len(f.Entries)-before,
					f.States[floor.ChatOf("staff1")].Flow, got)
			}
			if got := f.Says("staff1", "status"); !strings.Contains(got, "closed") {
				t.Errorf("%s, then %s: status says\n%s", begun, next, got)
			}
		}
	}
}

// A list of things that are not as they should be ends too.
func TestOutlivedChecklist(t *testing.T) {
	f := newFloor(t)
	f.Play("@2026-11-20 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: [Something is different]")
	f.Play("@2026-11-20 21:00\n" + evening)
	closedDays(f, "2026-11-21", "2026-11-23", "2026-11-24")
	if got := f.Taps("staff1", "The rest is done"); !strings.Contains(got, "too long ago") {
		t.Errorf("said\n%s", got)
	}
}
