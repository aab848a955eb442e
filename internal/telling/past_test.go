package telling_test

import (
	"testing"

	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// 2026-11-26 is a Thursday.
func TestPastDays(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for typed, want := range map[string][2]shop.Date{
		"":                    {"2026-11-26", "2026-11-26"},
		"for monday":          {"2026-11-23", "2026-11-23"},
		"friday.":             {"2026-11-20", "2026-11-20"},
		"fri-sun":             {"2026-11-20", "2026-11-22"},
		"24/11":               {"2026-11-24", "2026-11-24"},
		"24 to 27 november":   {"2026-11-24", "2026-11-27"},
		"monday to wednesday": {"2026-11-23", "2026-11-25"},
	} {
		if from, to, rest := telling.PastDays(c.Teller, typed); from != want[0] || to != want[1] || rest != "" {
			t.Errorf("%q: %s to %s, %q left over; want %v", typed, from, to, rest, want)
		}
	}
	for _, typed := range []string{"tomorrow", "2026-12-24", "24 december 2026", "31 feb", "monday please"} {
		if _, _, rest := telling.PastDays(c.Teller, typed); rest == "" {
			t.Errorf("%q was taken for a past day", typed)
		}
	}
}
