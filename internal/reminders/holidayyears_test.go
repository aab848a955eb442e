package reminders_test

import (
	"testing"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// The list of years says of every day what the question for that day says, for every country.
func TestFestivals(t *testing.T) {
	for _, country := range []string{"GB", "IE", "US", "DE", "PT", "PL", "XX"} {
		listed := map[shop.Date]bool{}
		for _, f := range reminders.Festivals(country, 2025, 2029) {
			if f.Name == "" {
				t.Errorf("%s %s has no name", country, f.Date)
			}
			listed[f.Date] = true
		}
		for d := shop.Date("2026-01-01"); d <= "2028-12-31"; d = d.Add(1) {
			if is := reminders.Holiday(country, d) != ""; is != listed[d] {
				t.Errorf("%s %s: holiday %t, listed %t", country, d, is, listed[d])
			}
		}
		if (len(listed) == 0) != (country == "XX" || country == "PT") {
			t.Errorf("%s: %d holidays", country, len(listed))
		}
	}
}
