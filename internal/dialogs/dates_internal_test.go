package dialogs

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// 2026-11-26 is a Thursday.
func TestPastDays(t *testing.T) {
	c := talkAt(t, "2026-11-26 09:00")
	for typed, want := range map[string][2]shop.Date{
		"":                    {"2026-11-26", "2026-11-26"},
		"for monday":          {"2026-11-23", "2026-11-23"},
		"friday.":             {"2026-11-20", "2026-11-20"},
		"fri-sun":             {"2026-11-20", "2026-11-22"},
		"24/11":               {"2026-11-24", "2026-11-24"},
		"24 to 27 november":   {"2026-11-24", "2026-11-27"},
		"monday to wednesday": {"2026-11-23", "2026-11-25"},
	} {
		if from, to, rest := c.pastDays(typed); from != want[0] || to != want[1] || rest != "" {
			t.Errorf("%q: %s to %s, %q left over; want %v", typed, from, to, rest, want)
		}
	}
	for _, typed := range []string{"tomorrow", "2026-12-24", "24 december 2026", "31 feb", "monday please"} {
		if _, _, rest := c.pastDays(typed); rest == "" {
			t.Errorf("%q was taken for a past day", typed)
		}
	}
}

func TestMonthOf(t *testing.T) {
	c := talkAt(t, "2026-11-26 09:00")
	for typed, want := range map[string][2]shop.Date{
		"":                {"2026-11-01", "2026-11-30"},
		"december":        {"2025-12-01", "2025-12-31"},
		"for february 24": {"", ""},
		"last month":      {"2026-10-01", "2026-10-31"},
		"friday":          {"", ""},
	} {
		from, to, ok := c.monthOf(typed)
		if ok != (want[0] != "") || ok && (from != want[0] || to != want[1]) {
			t.Errorf("%q: %s to %s %v, want %v", typed, from, to, ok, want)
		}
	}
}

// Who is away says on which days; a day that there is not is asked for again.
func TestUnclearDayIsNotToday(t *testing.T) {
	c := talkAt(t, "2026-11-26 09:00")
	for typed, want := range map[string]bool{
		"": true, "and cannot stand": true, "friday": true, "until friday, fever": true,
		"31 feb": false, "friday 24 december": false, "3-5": false,
	} {
		if _, ok := readIll(c, typed); ok != want {
			t.Errorf("ill %s: %v", typed, ok)
		}
		if _, ok := readNobody(c, "nobody comes "+typed); ok != want {
			t.Errorf("nobody comes %s: %v", typed, ok)
		}
	}
}

// Figures alone are notes to load with, unless they are a whole date.
func TestFiguresAreNotes(t *testing.T) {
	c := talkAt(t, "2026-11-26 09:00")
	c.m = books.New(1)
	for typed, want := range map[string]bool{
		"10/5": false, "20.10": false, "10 5": false, "24 dec": true, "2026-12-24": true, "friday to sunday": true,
	} {
		if _, _, ok := c.span(typed); ok != want {
			t.Errorf("%q: days %v", typed, ok)
		}
	}
}
