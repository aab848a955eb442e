package holidays_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
	"time"

	"shopfloat/internal/holidays"
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
		for _, date := range publishedIn(t, file) {
			published[date] = true
		}
		for date := shop.Date("2026-01-01"); date <= "2027-12-31"; date = date.Add(1) {
			name := holidays.On(country, date)
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
	if name := holidays.On("XX", "2026-12-25"); name != "" || holidays.Known("XX") || !holidays.Known("IE") {
		t.Errorf("a country that is not known has %q", name)
	}
}

// publishedIn reads the days of a file, which names its source in its head.
func publishedIn(t *testing.T, name string) []shop.Date {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "holidays", name))
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
	var days []shop.Date
	for _, row := range rows[1:] {
		days = append(days, shop.Date(row[0]))
	}
	return days
}
