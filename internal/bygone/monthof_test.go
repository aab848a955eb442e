package bygone_test

import (
	"testing"

	"shopfloat/internal/bygone"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// The month of a name is the one that has been or is under way; none is this one.
func TestMonthOf(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for typed, want := range map[string][2]shop.Date{
		"":                {"2026-11-01", "2026-11-30"},
		"december":        {"2025-12-01", "2025-12-31"},
		"for february 24": {"", ""},
		"last month":      {"2026-10-01", "2026-10-31"},
		"friday":          {"", ""},
	} {
		from, to, ok := bygone.MonthOf(c.Teller, typed)
		if ok != (want[0] != "") || ok && (from != want[0] || to != want[1]) {
			t.Errorf("%q: %s to %s %v, want %v", typed, from, to, ok, want)
		}
	}
}
