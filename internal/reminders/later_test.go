package reminders_test

import (
	"testing"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Two years after 2035, day by day in every zone: a day begins and ends when the shop's
// clock says so, an opening then is for that day, its ladder is in order and ends before it
// is not spoken of any more, and no day is without a deadline.
func TestTwoYearsAfter2035(t *testing.T) {
	for _, zone := range zones {
		s := example(t, func(s *shop.Settings) { s.Zone, s.Country = zone, "XX" })
		s.Plan.Summary = "off"
		for date := shop.Date("2036-01-01"); date <= "2037-12-31"; date = date.Add(1) {
			d := reminders.On(s, date)
			wall := d.Open.In(s.Location).Format("2006-01-02 15:04")
			wall += " " + d.Close.In(s.Location).Format("15:04")
			if want := string(date) + " 07:00 21:00"; wall != want || d.Closed != reminders.Trading {
				t.Fatalf("%s: %s, want %s", zone, wall, want)
			}
			if got := reminders.DayOf(s, d.Open); got != date || reminders.Today(s, d.Close) != date {
				t.Fatalf("%s: an opening of %s is for %s", zone, date, got)
			}
			for _, task := range []reminders.Task{reminders.Opening, reminders.Closing, reminders.Unclosed} {
				rungs := reminders.Rungs(s, date, task)
				if len(rungs) == 0 {
					t.Fatalf("%s: no ladder of %s on %s", zone, task, date)
				}
				for i, r := range rungs {
					if i > 0 && r.At.Before(rungs[i-1].At) || !r.At.Before(reminders.Until(s, date, task)) {
						t.Fatalf("%s: rung %d of %s on %s at %s", zone, r.No, task, date, r.At)
					}
				}
			}
		}
	}
}

// Public holidays and banking days of 2036 and 2037 by rules that were published: Easter
// Sunday is 13 April 2036 and 5 April 2037 (Butcher's computus as the US Naval Observatory
// gives it); TARGET closes on Good Friday, Easter Monday, 1 January, 1 May, 25 and 26
// December (European Central Bank).
func TestHolidaysAfter2035(t *testing.T) {
	lisbon := example(t, func(s *shop.Settings) { s.Country, s.Zone = "PT", "Europe/Lisbon" })
	for date, name := range map[shop.Date]string{
		"2036-04-11": "Good Friday", "2037-04-03": "Good Friday", "2036-12-25": "Christmas Day",
		"2037-12-25": "Christmas Day", "2037-01-01": "New Year's Day",
	} {
		if d := reminders.On(lisbon, date); d.Closed != reminders.Public {
			t.Errorf("%s (%s): closed by %q", date, name, d.Closed)
		}
	}
	for from, easter := range map[shop.Date][2]shop.Date{
		"2036-04-04": {"2036-04-11", "2036-04-14"}, "2037-03-27": {"2037-04-03", "2037-04-06"},
	} {
		if g, ok := reminders.NextGap("EUR", from); !ok || g.First != easter[0] || g.Last != easter[1] {
			t.Errorf("after %s: %+v", from, g)
		}
	}
	at := reminders.Overdue(lisbon, "2036-04-10").In(lisbon.Location).Format(time.DateOnly)
	if at != "2036-04-15" {
		t.Errorf("due on Maundy Thursday: told on %s", at)
	}
}

// Whoever looks after the computer is told in a line, from twelve months before on.
func TestEndsLine(t *testing.T) {
	s := example(t, nil)
	if line := reminders.EndsLine(s, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)); line != "" {
		t.Errorf("years before: %q", line)
	}
	want := "shop 1: holidays and banking days are known until 2045 only; " +
		"a newer version of the program is needed by then\n"
	if line := reminders.EndsLine(s, time.Date(2045, 3, 1, 0, 0, 0, 0, time.UTC)); line != want {
		t.Errorf("in the last year: %q", line)
	}
}
