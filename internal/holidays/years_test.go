package holidays_test

import (
	"testing"

	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// The list of years says of every day what the question for that day says, for every country.
func TestFestivals(t *testing.T) {
	for _, country := range []string{"GB", "IE", "US", "DE", "PT", "PL", "XX"} {
		listed := map[shop.Date]bool{}
		for _, f := range holidays.Years(country, 2025, 2029) {
			if f.Name == "" {
				t.Errorf("%s %s has no name", country, f.Date)
			}
			listed[f.Date] = true
		}
		for d := shop.Date("2026-01-01"); d <= "2028-12-31"; d = d.Add(1) {
			if is := holidays.On(country, d) != ""; is != listed[d] {
				t.Errorf("%s %s: holiday %t, listed %t", country, d, is, listed[d])
			}
		}
		if (len(listed) == 0) != (country == "XX" || country == "PT") {
			t.Errorf("%s: %d holidays", country, len(listed))
		}
	}
}

func TestEveryCountryInOrder(t *testing.T) {
	for _, country := range []string{"AT", "BE", "DE", "ES", "FR", "GB", "IE", "IT", "NL", "US"} {
		list := holidays.Years(country, 2024, 2028)
		if len(list) < 5*5 {
			t.Errorf("%s: %d holidays in five years", country, len(list))
		}
		for i, h := range list {
			if h.Name == "" || i > 0 && h.Date < list[i-1].Date {
				t.Errorf("%s: %s %q is out of order or has no name", country, h.Date, h.Name)
			}
		}
	}
}
