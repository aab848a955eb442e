package reminders_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Until the instant that Holds gives, an opening is for the same day: over the hours, pauses,
// nights, endless shops, closures and changes of a shop, in zones whose clocks jump. Both
// ends are looked at, and the ends of minutes between.
func TestHolds(t *testing.T) {
	zones := []string{"Europe/Dublin", "America/New_York", "America/Nuuk", "Australia/Lord_Howe",
		"Antarctica/Troll", "America/Santiago", "America/Havana"}
	held, ended := 0, 0
	checks.Rapid(t, 500, 3000, 30000, func(t *rapid.T) {
		s := shop.Settings{Zone: rapid.SampledFrom(zones).Draw(t, "zone"), Currency: "EUR", Country: "IE"}
		some := []shop.Hours{{}, {Open: 8 * 60, Close: 20 * 60}, {Open: 18 * 60, Close: 3 * 60},
			{Open: 60, Close: 23 * 60}, {Open: 0, Close: 0}, {Open: 6 * 60, Close: 6 * 60},
			{Open: 9 * 60, Close: 24 * 60}}
		usual := rapid.SampledFrom(some).Draw(t, "usual")
		for day := range s.Hours {
			s.Hours[day] = rapid.SampledFrom(append([]shop.Hours{usual, usual, usual}, some...)).Draw(t, "day")
		}
		if rapid.Bool().Draw(t, "same") {
			for day := range s.Hours {
				s.Hours[day] = usual
			}
		}
		s.Plan.TradesOnHolidays = rapid.Bool().Draw(t, "holidays")
		begin := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).
			Add(time.Duration(rapid.IntRange(0, 2*365*96).Draw(t, "quarter")) * 15 * time.Minute)
		for range rapid.IntRange(0, 2).Draw(t, "changes") {
			date := shop.DateOf(begin).Add(rapid.IntRange(-1, 2).Draw(t, "date"))
			open, end := rapid.IntRange(0, 23).Draw(t, "open")*60, rapid.IntRange(0, 24).Draw(t, "close")*60
			c := shop.Change{From: date, To: date, At: begin}
			switch rapid.IntRange(0, 2).Draw(t, "change") {
			case 0:
				c.Closed = true
			case 1:
				c.Off = true
			default:
				c.Open, c.Close = &open, &end
			}
			s.Plan.Changes = append(s.Plan.Changes, c)
		}
		sh, err := shop.New(1, 1, s)
		if err != nil {
			return // settings that no shop can have
		}
		until := reminders.Holds(sh, begin)
		day := reminders.DayOf(sh, begin)
		if !until.After(begin) {
			return
		}
		held++
		at := []time.Time{until.Add(-1)}
		for range 20 {
			at = append(at, begin.Add(time.Duration(rapid.Int64Range(0, int64(until.Sub(begin))-1).Draw(t, "at"))))
		}
		for m := begin.Truncate(time.Minute).Add(time.Minute); m.Before(until); m = m.Add(30 * time.Minute) {
			at = append(at, m)
		}
		for _, at := range at {
			if got := reminders.DayOf(sh, at); got != day {
				t.Fatalf("opened %s for %s until %s, but at %s for %s", begin, day, until, at, got)
			}
		}
		if reminders.DayOf(sh, until) != day {
			ended++
		}
	})
	if held < 100 || ended < 10 {
		t.Errorf("only %d held, and %d of them ended by a change of day", held, ended)
	}
}

// The other end: an opening is shown again within the day, so Holds must not give up at once.
// After the close of a day an opening is for the next one, a day by the clock, at midnight.
func TestHoldsForHours(t *testing.T) {
	s := shop.Settings{Zone: "Europe/Dublin", Currency: "EUR", Country: "IE"}
	for day := range s.Hours {
		s.Hours[day] = shop.Hours{Open: 9 * 60, Close: 18 * 60}
	}
	sh, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	for clock, want := range map[string]string{
		"07:40": "08:00", // an hour before trading
		"09:30": "11:00", // two hours after the opening, where a day without an end begins
		"11:01": "18:00", // the close, at which an opening is for that day still
		"20:30": "24:00",
	} {
		at, err := time.ParseInLocation("2006-01-02 15:04", "2026-11-25 "+clock, sh.Location)
		if err != nil {
			t.Fatal(err)
		}
		end, err := time.ParseInLocation("2006-01-02 15:04", "2026-11-25 "+want, sh.Location)
		if want == "24:00" {
			end, err = time.Date(2026, 11, 26, 0, 0, 0, 0, sh.Location), nil
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := reminders.Holds(sh, at); !got.Equal(end) {
			t.Errorf("at %s it holds until %s, want %s", clock, got, want)
		}
	}
}
