package shop_test

import (
	"testing"

	"shopfloat/internal/shop"
)

// Hours from a day on are those of the week from then on; seasons go before them. Once the day
// has come they are the week, so that a change of the week changes them, and nothing else moves.
func TestHoursFromADayOn(t *testing.T) {
	s := shop.Example()
	all := func(h shop.Hours) (list [7]*shop.Hours) {
		for i := range list {
			list[i] = &h
		}
		return list
	}
	old, later, summer := shop.Hours{Open: 540, Close: 1080}, shop.Hours{Open: 480, Close: 1200},
		shop.Hours{Open: 600, Close: 960}
	s.Hours = [7]shop.Hours{old, old, old, old, old, old, old}
	s.Plan.Seasons = []shop.Season{{From: "06-01", To: "08-31", Hours: all(summer)},
		{Since: "2027-02-01", Hours: all(later)}}
	if _, err := shop.New(1, 1, s); err != nil {
		t.Fatal(err)
	}
	for _, today := range []shop.Date{"2026-11-26", "2027-01-31", "2027-02-01", "2027-07-01"} {
		settled := s.Settled(today)
		if n := len(settled.Plan.Seasons); (n == 1) != (today >= "2027-02-01") {
			t.Errorf("%s: %d seasons", today, n)
		}
		for day, want := range map[shop.Date]shop.Hours{"2027-01-31": old, "2027-02-01": later,
			"2027-06-01": summer, "2027-09-01": later, "2028-01-03": later} {
			if got := settled.Weekly(day); got != want && day >= today {
				t.Errorf("%s, as of %s: %v, want %v", day, today, got, want)
			}
		}
	}
	for name, season := range map[string]shop.Season{
		"no such day":          {Since: "2027-02-30", Hours: all(later)},
		"a part of every year": {Since: "2027-02-01", From: "06-01", To: "08-31", Hours: all(later)},
		"days without an end":  {Since: "2027-02-01", Hours: all(shop.Hours{Close: shop.DayMinutes})},
	} {
		s.Plan.Seasons = []shop.Season{season}
		if _, err := shop.New(1, 1, s); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}
