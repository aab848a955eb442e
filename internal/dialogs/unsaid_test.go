package dialogs_test

import (
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// A text that is not taken is said back, but not a sum: the first line of a message
// is what a locked screen shows.
func TestNoSumIsSaidBackFirst(t *testing.T) {
	for _, open := range []string{
		"staff1: open 40 150 200\nstaff1: close",                          // go on or leave
		"staff1: open 40 150 200\n@2026-11-26 06:50",                      // a card of another day
		"staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: topup 20x50", // a card to confirm
	} {
		for _, sum := range []string{"€3000 in 20s", "£40 for you", "3000€ what"} {
			f := floor.New(t, dialogs.New)
			f.Play(open)
			said := f.Says("staff1", sum)
			floor.Expect(t, said, "bot", sum)
		}
	}
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: close")
	f.Expect(f.Says("staff1", "hm 34 70"), `I could not take in "hm 34 70" here.`, "")
}
