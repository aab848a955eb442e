package lines_test

import (
	"testing"

	"shopfloat/internal/lines"
)

func TestSlipRefused(t *testing.T) {
	for text, want := range map[string]struct {
		rest  string
		notes int64
	}{
		"28 90 120 refused 3":        {"28 90 120", 3},
		"28 90 120, refused: 3":      {"28 90 120", 3},
		"28 90 120 and 3 refused":    {"28 90 120", 3},
		"28 90 120, 3 notes refused": {"28 90 120", 3},
		"28 90 120 rejected 12":      {"28 90 120", 12},
		"28 90 120":                  {"28 90 120", 0},
		"28 90 120 refused":          {"28 90 120 refused", 0}, // 120 were paid out
		"refused 3":                  {"refused 3", 0},
	} {
		if rest, notes := lines.SlipRefused(text); rest != want.rest || notes != want.notes {
			t.Errorf("%q: %q, %d", text, rest, notes)
		}
	}
}
