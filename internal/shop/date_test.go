package shop_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
)

// Only what ISO 8601 calls the extended format of a calendar date is one, and only a day of
// the Gregorian calendar: 29 February in years divisible by four and not by a hundred, or by
// four hundred. Weekdays are reckoned by hand from 1 January 2000, a Saturday.
func TestParseDate(t *testing.T) {
	for text, want := range map[string]time.Weekday{
		"1985-04-12": time.Friday, "2000-01-01": time.Saturday, "2000-02-29": time.Tuesday,
		"2026-11-25": time.Wednesday, "2024-02-29": time.Thursday,
	} {
		d, err := shop.ParseDate(text)
		if err != nil || string(d) != text || d.Weekday() != want {
			t.Errorf("%s is %q, a %s, %v; want a %s", text, d, d.Weekday(), err, want)
		}
	}
	for _, text := range []string{
		"", "2026", "2026-11", "2026-1-5", "26-11-25", "25.11.2026", "20261125",
		"2026-11-31", "2026-13-01", "2026-00-10", "2026-02-29", "1900-02-29",
		" 2026-11-25", "2026-11-25T00:00:00Z", "2026-11-25x",
	} {
		if d, err := shop.ParseDate(text); err == nil || d != "" {
			t.Errorf("%q is read as %q", text, d)
		}
		if d := shop.Date(text); !d.Time().IsZero() {
			t.Errorf("%q begins at %s", text, d.Time())
		}
	}
}

// The date is the one on the clock it is asked of: an hour before midnight in New York it
// is another one in Tokyo.
func TestDateOf(t *testing.T) {
	at := time.Date(2026, 2, 28, 23, 0, 0, 0, time.FixedZone("", -5*60*60))
	if got := shop.DateOf(at); got != "2026-02-28" {
		t.Errorf("in New York it is %s", got)
	}
	if got := shop.DateOf(at.In(time.FixedZone("", 9*60*60))); got != "2026-03-01" {
		t.Errorf("in Tokyo it is %s", got)
	}
}

// Days are counted as hours of 24 in UTC count them, ordered as their text is, and every
// step can be taken back.
func TestDateAdd(t *testing.T) {
	for start, want := range map[shop.Date]map[int]shop.Date{
		"2026-12-31": {1: "2027-01-01", -365: "2025-12-31", 0: "2026-12-31"},
		"2024-02-28": {1: "2024-02-29", 2: "2024-03-01", -59: "2023-12-31"},
	} {
		for days, want := range want {
			if got := start.Add(days); got != want {
				t.Errorf("%s and %d days: %s, want %s", start, days, got, want)
			}
		}
	}
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		d := shop.Date("2026-01-01").Add(rapid.IntRange(-20_000, 20_000).Draw(t, "date"))
		n := rapid.IntRange(-5_000, 5_000).Draw(t, "days")
		to := d.Add(n)
		if hours := to.Time().Sub(d.Time()).Hours(); hours != float64(24*n) || to.Add(-n) != d {
			t.Fatalf("%s and %d days: %s, %g hours away", d, n, to, hours)
		}
		if (to > d) != (n > 0) {
			t.Fatalf("%s and %d days is %s, and not in order", d, n, to)
		}
	})
}

// Every day of a century, and what is none, is read and written as the library does it.
func TestDateAsTheLibrary(t *testing.T) {
	for at := time.Date(1999, 12, 31, 23, 59, 0, 0, time.UTC); at.Year() < 2101; at = at.AddDate(0, 0, 1) {
		text := at.Format(time.DateOnly)
		day, _ := time.Parse(time.DateOnly, text)
		if d := shop.DateOf(at); string(d) != text || !d.Time().Equal(day) || d.Time().Location() != time.UTC {
			t.Fatalf("%s is %q, %s", text, d, d.Time())
		}
	}
	for _, text := range []string{"0000-01-01", "9999-12-28", "2026-02-29", "2026-00-10", "2026-13-10",
		"2026-01-00", "2026-1-100", "202a-01-01", "2026-01-2 ", "2026/01/02", ""} {
		want, err := time.Parse(time.DateOnly, text)
		if got := shop.Date(text).Time(); !got.Equal(want) || err != nil && !got.IsZero() {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	far := time.Date(12026, 1, 2, 0, 0, 0, 0, time.UTC)
	if string(shop.DateOf(far)) != far.Format(time.DateOnly) {
		t.Errorf("%s: %q", far, shop.DateOf(far))
	}
}
