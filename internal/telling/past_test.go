package telling_test

import (
	"strings"
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
		"19":                  {"2026-11-19", "2026-11-19"},
		"29 february 2024":    {"2024-02-29", "2024-02-29"},
	} {
		if from, to, rest := telling.PastDays(c.Teller, typed); from != want[0] || to != want[1] || rest != "" {
			t.Errorf("%q: %s to %s, %q left over; want %v", typed, from, to, rest, want)
		}
	}
	for _, typed := range []string{"tomorrow", "2026-12-24", "24 december 2026", "31 feb", "monday please",
		"29 february", "19 euro"} {
		if _, _, rest := telling.PastDays(c.Teller, typed); rest == "" {
			t.Errorf("%q was taken for a past day", typed)
		}
	}
}

// Why words name no day that has been is said. 2024 was the last year with a 29 February,
// and the next day of 2027 is more than a year behind it; 2028 has one.
func TestNoDay(t *testing.T) {
	for _, x := range []struct{ now, typed, want string }{
		{"2027-03-01 09:00", "29 february", "There was no 29 February since Thu 29 Feb 2024."},
		{"2027-03-01 09:00", "29 february 2027", "There is no such day: 29 february 2027."},
		{"2027-03-01 09:00", "30 feb", "There is no such day: 30 feb."},
		{"2027-03-01 09:00", "friday 28 february", "That can be two days: friday 28 february."},
		{"2027-03-01 09:00", "20 march 2028", "That day has not come yet: Mon 20 Mar 2028."},
		{"2027-03-01 09:00", "blue moon", "I do not know the day: blue moon."},
	} {
		c := floor.Talk(t, x.now)
		if got := telling.NoDay(c.Teller, x.typed, "past.no-day"); !strings.HasPrefix(got, x.want) {
			t.Errorf("%s: %s, want %s", x.typed, got, x.want)
		}
	}
	c := floor.Talk(t, "2028-03-01 09:00")
	if day, _, rest := telling.PastDays(c.Teller, "29 february"); day != "2028-02-29" || rest != "" {
		t.Errorf("%s, %q left over", day, rest)
	}
}
