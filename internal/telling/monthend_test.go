package telling_test

import (
	"testing"

	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/telling"
)

// A month that is finished without being named is the one before in its first half, else this one.
func TestMonthToEnd(t *testing.T) {
	for _, c := range []struct{ at, said, want string }{
		{"2026-12-01 09:00", "finish the month", "2026-11"}, {"2026-12-15 09:00", "close the month", "2026-11"},
		{"2026-12-16 09:00", "finish the month", "2026-12"}, {"2027-01-03 09:00", "close off the month", "2026-12"},
		{"2026-03-31 09:00", "finish month", "2026-03"}, {"2026-12-01 09:00", "finish november", "november"},
	} {
		got, ok := telling.EndsMonth(floor.Talk(t, c.at).Teller, c.said)
		if !ok || got != c.want {
			t.Errorf("%s, %q: %q %t, want %s", c.at, c.said, got, ok, c.want)
		}
	}
}
