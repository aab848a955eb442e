package reminders_test

import (
	"testing"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Public holidays of 2026 and 2027 against published tables; the source stands
// in each file. Every published day must be one, and no other day from Monday to
// Friday. On weekends the actual day of a holiday kept on a weekday is one too.
func TestPublishedHolidays(t *testing.T) {
	for country, file := range map[string]string{
		"GB": "holidays_england_wales.csv", // UK government data
		"IE": "holidays_ireland.csv",       // Organisation of Working Time Act 1997
		"US": "holidays_us_fed_banks.csv",  // Federal Reserve K.8
	} {
		published := map[shop.Date]bool{}
		for _, row := range table(t, file) {
			published[shop.Date(row[0])] = true
		}
		for date := shop.Date("2026-01-01"); date <= "2027-12-31"; date = date.Add(1) {
			name := reminders.Holiday(country, date)
			weekend := date.Weekday() == time.Saturday || date.Weekday() == time.Sunday
			switch {
			case published[date] && name == "":
				t.Errorf("%s: %s is a holiday", country, date)
			case !published[date] && name != "" && !weekend:
				t.Errorf("%s: %s is taken for %s", country, date, name)
			}
		}
	}
}

func TestHolidayOfUnknownCountry(t *testing.T) {
	if name := reminders.Holiday("XX", "2026-12-25"); name != "" || reminders.Known("XX") || !reminders.Known("IE") {
		t.Errorf("a country that is not known has %q", name)
	}
}
