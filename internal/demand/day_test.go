package demand_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/demand"
)

func TestDayAgreesWithTheCalendar(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		day := demand.Day(rapid.Int32Range(-200_000, 200_000).Draw(t, "day"))
		at := time.Date(1970, 1, 1+int(day), 12, 0, 0, 0, time.UTC)
		if got := day.Weekday(); got != at.Weekday() {
			t.Fatalf("%s is a %s, want %s", day, got, at.Weekday())
		}
		if year := at.Year(); year < 1 || year > 9999 {
			return
		}
		if got := day.String(); got != at.Format(time.DateOnly) {
			t.Fatalf("day %d is written %s, want %s", int(day), got, at.Format(time.DateOnly))
		}
		if back, err := demand.ParseDay(day.String()); err != nil || back != day {
			t.Fatalf("%s reads back as %v, %v", day, back, err)
		}
	})
}

func TestParseDayErr(t *testing.T) {
	for _, text := range []string{
		"", "2026-1-2", "2026-02-30", "02/03/2026", "2026-02-03 ", "２０２６-02-03",
	} {
		if day, err := demand.ParseDay(text); err == nil {
			t.Errorf("%q reads as %s, want an error", text, day)
		}
	}
}

func FuzzParseDay(f *testing.F) {
	f.Add("2026-11-25")
	f.Add("0000-01-01")
	f.Fuzz(func(t *testing.T, text string) {
		day, err := demand.ParseDay(text)
		if err == nil && day.String() != text {
			t.Errorf("%q reads as %s", text, day)
		}
	})
}
