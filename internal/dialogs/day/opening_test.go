package day_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// From nine tenths of what a box holds, or of the most cash allowed, the review
// of an opening says so. Worked by hand: nine tenths of 2,000 notes are 1,800; of
// EUR 40,000 they are 36,000, which 310 fifties, 450 twenties and 1,150 tens make.
func TestNearLimits(t *testing.T) {
	for counts, want := range map[string]string{
		"40 150 1800":  "10s (bottom box) is 90 % full (2,000 fit).",
		"40 150 1799":  "",
		"310 450 1150": "This is 90 % of the most cash allowed inside (€40,000).",
		"310 450 1149": "",
	} {
		f := floor.New(t, dialogs.New)
		said := f.Says("staff1", "open "+counts)
		for range 2 {
			if f.State("staff1").Step == "review" {
				break
			}
			said = f.Taps("staff1", "It really")
		}
		if !strings.Contains(said, want) || strings.Contains(said, " % ") != (want != "") {
			t.Errorf("%s: want %q in\n%s", counts, want, said)
		}
	}
}
