package telling_test

import (
	"testing"

	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// 2026-11-26 is a Thursday. A day without a year is the next one of that name,
// and none is today.
func TestDays(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for typed, want := range map[string]struct {
		from, to shop.Date
		rest     string
		unclear  bool
	}{
		"":                       {"2026-11-26", "2026-11-26", "", false},
		"tomorrow":               {"2026-11-27", "2026-11-27", "", false},
		"friday to sunday":       {"2026-11-27", "2026-11-29", "", false},
		"until friday, fever":    {"2026-11-26", "2026-11-27", "fever", false},
		"24 december, police":    {"2026-12-24", "2026-12-24", "police", false},
		"5 january":              {"2027-01-05", "2027-01-05", "", false},
		"31 feb":                 {"2026-11-26", "2026-11-26", "31 feb", true},
		"because of the weather": {"2026-11-26", "2026-11-26", "because of the weather", false},
		"friday 24 december":     {"2026-11-26", "2026-11-26", "friday 24 december", true},
		"3-5":                    {"2026-11-26", "2026-11-26", "3-5", true},
	} {
		from, to, rest := telling.Days(c.Teller, typed)
		if from != want.from || to != want.to || rest != want.rest {
			t.Errorf("%q: %s to %s, %q left over; want %v", typed, from, to, rest, want)
		}
		if got := telling.Unclear(c.Teller, typed); got != want.unclear {
			t.Errorf("%q: unclear %t", typed, got)
		}
	}
}

func TestTimeOfDay(t *testing.T) {
	for typed, want := range map[string]struct {
		minutes int
		rest    string
	}{"15:00 today": {900, "today"}, "9am": {540, ""}, "0:00": {0, ""}, "25:00": {-1, "25:00"}, "": {-1, ""},
		"noon": {-1, "noon"}} {
		if minutes, rest := telling.TimeOfDay(typed); minutes != want.minutes || rest != want.rest {
			t.Errorf("%q: %d, %q left over", typed, minutes, rest)
		}
	}
	for minutes, want := range map[int]string{0: "00:00", 59: "00:59", 60: "01:00", 905: "15:05",
		1440: "24:00"} {
		if got := telling.ClockText(minutes); got != want {
			t.Errorf("%d is %s", minutes, got)
		}
	}
}

// Days are worded with their year when that is not this one.
func TestBetween(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for _, x := range []struct {
		from, to shop.Date
		want     string
	}{
		{"2026-11-26", "2026-11-26", "today"}, {"2026-11-26", "2026-11-27", "today to Fri 27 Nov"},
		{"2026-12-24", "2026-12-24", "Thu 24 Dec"}, {"2026-12-24", "2027-01-03", "Thu 24 Dec to Sun 3 Jan 2027"},
		{"2025-11-26", "2025-11-26", "Wed 26 Nov 2025"},
	} {
		if got := c.Between(x.from, x.to); got != x.want {
			t.Errorf("%s to %s is %q", x.from, x.to, got)
		}
	}
	if !c.IsWord("back", "back") || c.IsWord("back", "front") || c.IsWord("nothing", "") {
		t.Error("a word is taken for another")
	}
}
