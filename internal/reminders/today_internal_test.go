package reminders

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
)

// Where no day can end on the next date, the calendar says which day it is, as the plan
// would: over the hours, seasons and changes of a shop, in zones whose clocks jump.
func TestTodayWithoutAPlan(t *testing.T) {
	zones := []string{"Europe/Dublin", "America/New_York", "America/Nuuk", "Australia/Lord_Howe",
		"Antarctica/Troll", "America/Santiago"}
	plain := 0
	hours := rapid.Custom(func(t *rapid.T) shop.Hours {
		open := rapid.IntRange(0, 47).Draw(t, "open") * 30
		return rapid.SampledFrom([]shop.Hours{{}, {Open: open, Close: rapid.IntRange(0, 48).Draw(t, "close") * 30},
			{Open: 8 * 60, Close: 20 * 60}, {Open: 8 * 60, Close: 22 * 60}}).Draw(t, "hours")
	})
	checks.Rapid(t, 300, 2000, 20000, func(t *rapid.T) {
		zone := rapid.SampledFrom(zones).Draw(t, "zone")
		s := shop.Settings{Zone: zone, Currency: "EUR", Country: "IE"}
		for day := range s.Hours {
			s.Hours[day] = rapid.SampledFrom([]shop.Hours{{Open: 8 * 60, Close: 20 * 60}, {Open: 60, Close: 22 * 60},
				hours.Draw(t, "week")}).Draw(t, "day")
		}
		if h := hours.Draw(t, "holidays"); h != (shop.Hours{}) {
			s.Plan.HolidayHours, s.Plan.TradesOnHolidays = &h, true
		}
		sh, err := shop.New(1, 1, s)
		if err != nil {
			return // hours that no shop can have
		}
		at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).
			Add(time.Duration(rapid.IntRange(0, 2*365*96).Draw(t, "quarter")) * 15 * time.Minute)
		if sh.Late() {
			return
		}
		plain++
		if got, want := Today(sh, at), today(sh, on(sh), at); got != want {
			t.Fatalf("%s in %s: %s, by the plan %s", at, zone, got, want)
		}
	})
	if plain < 20 {
		t.Errorf("only %d shops close in time", plain)
	}
}
