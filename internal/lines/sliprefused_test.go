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

func TestPaidOut(t *testing.T) {
	for text, want := range map[string]string{
		"paid out 28 90": "28 90", "Paid: 28 90": "28 90", "it paid 28 90": "28 90", "payouts are 28 90": "28 90",
		"116 tens paid": "116 tens", "116 tens were paid out.": "116 tens",
	} {
		if got, said := lines.PaidOut(text); got != want || !said {
			t.Errorf("%q: %q, %t, want %q", text, got, said, want)
		}
	}
	for _, text := range []string{"28 90", "20x2", "paid", "it paid out", "paid out 20x2 but cancelled",
		"prepaid 20"} {
		if got, said := lines.PaidOut(text); got != text || said {
			t.Errorf("%q: %q, %t", text, got, said)
		}
	}
}

// What is said to be cancelled is parted from what was paid out where figures stand on both sides.
func TestSlipCancelled(t *testing.T) {
	for typed, want := range map[string][2]string{
		"149 60 cancelled 1 twenty":         {"149 60", "1 twenty"},
		"149 60, canceled: 20x1":            {"149 60", "20x1"},
		"149 60 and 1 twenty was cancelled": {"149 60", "1 twenty"},
		"149 60; 1x20 reversed.":            {"149 60", "1x20"},
		"cancelled 1 twenty":                {"cancelled 1 twenty", ""},
		"149 60 cancelled":                  {"149 60 cancelled", ""},
		"149 60 cancelled none":             {"149 60", "none"},
		"149 60, nothing cancelled":         {"149 60", "nothing"},
		"149 60 cancelled by mistake":       {"149 60 cancelled by mistake", ""},
		"149 60":                            {"149 60", ""},
		"":                                  {"", ""},
	} {
		if rest, back := lines.SlipCancelled(typed); rest != want[0] || back != want[1] {
			t.Errorf("%q: %q and %q, want %q", typed, rest, back, want)
		}
	}
}
