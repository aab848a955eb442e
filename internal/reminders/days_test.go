package reminders_test

import (
	"testing"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// What is remembered of a plan is the plan, at each hour of a year: of a shop by day, one that
// trades past midnight, one that never closes, and one whose hours change for a day, in zones whose
// clocks go forward and back.
func TestDaysAreThePlan(t *testing.T) {
	hour := func(h int) *int { h *= 60; return &h }
	for name, change := range map[string]func(*shop.Settings){
		"by day": func(*shop.Settings) {},
		"late":   func(s *shop.Settings) { s.Hours[time.Friday] = shop.Hours{Open: 18 * 60, Close: 3 * 60} },
		"noon":   func(s *shop.Settings) { s.Hours[time.Friday] = shop.Hours{Open: 15 * 60, Close: 20 * 60} },
		"endless": func(s *shop.Settings) {
			for i := range s.Hours {
				s.Hours[i] = shop.Hours{Open: 6 * 60, Close: 6 * 60}
			}
		},
		"changed": func(s *shop.Settings) {
			s.Plan.Changes = []shop.Change{{From: "2026-06-01", To: "2026-06-01", Open: hour(13)}}
		},
		"season": func(s *shop.Settings) {
			var own [7]*shop.Hours
			own[time.Monday] = &shop.Hours{Open: 14 * 60, Close: 21 * 60}
			s.Plan.Seasons = []shop.Season{{Since: "2026-05-01", Hours: own}}
		},
		"holidays": func(s *shop.Settings) {
			s.Plan.TradesOnHolidays, s.Plan.HolidayHours = true, &shop.Hours{Open: 16 * 60, Close: 19 * 60}
		},
	} {
		s := shop.Example()
		change(&s)
		zone, err := time.LoadLocation(s.Zone)
		if err != nil {
			t.Fatal(err)
		}
		of := &shop.Shop{Settings: s, Location: zone}
		days, early := reminders.NewDays(of), 0
		for now := shop.Date("2026-01-01").Time(); now.Year() == 2026; now = now.Add(55 * time.Minute) {
			date := reminders.Today(of, now)
			if got := days.Today(now); got != date {
				t.Fatalf("%s: %s is of %s, by the plan of %s", name, now, got, date)
			}
			day := reminders.On(of, date)
			want := day.Closed == reminders.Trading && now.Before(day.Open)
			if got := days.Early(date, now); got != want {
				t.Fatalf("%s: %s is early: %t, by the plan %t", name, now, got, want)
			}
			if want {
				early++
			}
		}
		if never := name == "endless"; (early == 0) != never {
			t.Errorf("%s: %d instants are early", name, early)
		}
	}
}
