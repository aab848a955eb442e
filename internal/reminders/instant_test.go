package reminders_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
	"time"
	_ "time/tzdata" // the zones must not depend on the computer's files

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// zones are those in which the hour goes wrong in different ways: winter is
// daylight time by the books in Dublin, half an hour changes in Lord Howe,
// midnight itself is missing in Havana, and Kolkata never changes.
var zones = []string{
	"Europe/Dublin",
	"America/New_York",
	"Australia/Lord_Howe",
	"America/Havana",
	"Asia/Kolkata",
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

// table reads published values; each file names its source in its head.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "reminders", name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	return rows[1:]
}

// The change-over instants of 2026 and 2027 as the UK government, Directive
// 2000/84/EC and 15 USC 260a lay them down; the sources stand in the file. A
// time in the gap is the instant of the change, one shown twice is the first.
func TestPublishedChangeOvers(t *testing.T) {
	for _, row := range table(t, "dst_changes.csv") {
		loc, date, forward := zone(t, row[0]), shop.Date(row[1]), row[2] == "forward"
		change, err := time.Parse(time.RFC3339, row[3])
		if err != nil {
			t.Fatal(err)
		}
		before, after := minutes(t, row[4]), minutes(t, row[5])
		if forward {
			for _, missing := range []int{before, before + 1, before + 30, after - 1} {
				if got := reminders.Instant(loc, date, missing); !got.Equal(change) {
					t.Errorf("%s %s minute %d: %s, want the change at %s", row[0], date, missing, got.UTC(), change)
				}
			}
			if got := reminders.Instant(loc, date, after); !got.Equal(change) {
				t.Errorf("%s %s: the first minute after the gap is %s, want %s", row[0], date, got.UTC(), change)
			}
			continue
		}
		for _, twice := range []int{after, after + 30, before - 1} {
			want := change.Add(time.Duration(twice-before) * time.Minute) // still before the change
			if got := reminders.Instant(loc, date, twice); !got.Equal(want) {
				t.Errorf("%s %s minute %d: %s, want the first, %s", row[0], date, twice, got.UTC(), want)
			}
		}
		if got := reminders.Instant(loc, date, before); !got.Equal(
			change.Add(time.Duration(before-after) * time.Minute),
		) {
			t.Errorf("%s %s: the first minute shown once again is %s", row[0], date, got.UTC())
		}
	}
}

func minutes(t *testing.T, clock string) int {
	t.Helper()
	at, err := time.Parse("15:04", clock)
	if err != nil {
		t.Fatal(err)
	}
	return at.Hour()*60 + at.Minute()
}

// Rules of these zones as in the time zone database, release 2025b, that comes
// with Go: Lord Howe changes half an hour at 02:00 local on the first Sundays of
// April and October; Havana changes at 00:00 local, forward on the second Sunday
// of March, back at 01:00 on the first Sunday of November; Kolkata is UTC+5:30.
func TestUnusualZones(t *testing.T) {
	for _, c := range []struct{ zone, date, clock, want string }{
		{"Australia/Lord_Howe", "2026-10-04", "02:15", "2026-10-03T15:30:00Z"}, // missing 02:00-02:30
		{"Australia/Lord_Howe", "2026-10-04", "02:30", "2026-10-03T15:30:00Z"},
		{"Australia/Lord_Howe", "2026-04-05", "01:45", "2026-04-04T14:45:00Z"}, // twice 01:30-02:00
		{"America/Havana", "2026-03-08", "00:00", "2026-03-08T05:00:00Z"},      // missing 00:00-01:00
		{"America/Havana", "2026-03-08", "00:30", "2026-03-08T05:00:00Z"},
		{"America/Havana", "2026-11-01", "00:30", "2026-11-01T04:30:00Z"}, // twice 00:00-01:00
		{"Asia/Kolkata", "2026-03-29", "02:30", "2026-03-28T21:00:00Z"},
		{"America/New_York", "2026-03-08", "02:30", "2026-03-08T07:00:00Z"}, // a daily cron job skips this day
		{"America/New_York", "2026-11-01", "01:30", "2026-11-01T05:30:00Z"}, // and runs twice on this
		{"Europe/Dublin", "2026-11-25", "24:00", "2026-11-26T00:00:00Z"},
	} {
		m := 24 * 60
		if c.clock != "24:00" {
			m = minutes(t, c.clock)
		}
		if got := reminders.Instant(zone(t, c.zone), shop.Date(c.date),
			m).UTC().Format(time.RFC3339); got != c.want {
			t.Errorf("%s %s %s: %s, want %s", c.zone, c.date, c.clock, got, c.want)
		}
	}
}

// Whatever the zone, day and time: the clocks show that time then and did not
// before, or the time is missing and the clocks jump over it then.
func TestInstantShowsItsTime(t *testing.T) {
	checks.Rapid(t, 300, 10_000, 500_000, func(t *rapid.T) {
		name := rapid.SampledFrom(zones).Draw(t, "zone")
		loc, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		date := shop.Date("2026-01-01").Add(rapid.IntRange(0, 730).Draw(t, "day"))
		m := rapid.IntRange(0, 30*60).Draw(t, "minute")
		got := reminders.Instant(loc, date, m)
		want := date.Time().Add(time.Duration(m) * time.Minute).Format("2006-01-02 15:04")
		shown := func(at time.Time) string { return at.In(loc).Format("2006-01-02 15:04") }
		if shown(got) == want {
			for back := 10 * time.Minute; back <= 3*time.Hour; back += 10 * time.Minute {
				if shown(got.Add(-back)) == want {
					t.Fatalf("%s shows %s already at %s", name, want, got.Add(-back).UTC())
				}
			}
			return
		}
		if before := shown(got.Add(-time.Minute)); !(before < want && want < shown(got)) {
			t.Fatalf("%s %s: %s, where the clocks go from %s to %s", name, want, got.UTC(), before, shown(got))
		}
	})
}
