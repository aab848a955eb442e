package holidays_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// published are the files with a country's holidays of 2026 and 2027.
var published = map[string]string{
	"GB": "holidays_england_wales.csv", // UK government data
	"IE": "holidays_ireland.csv",       // Organisation of Working Time Act 1997
	"US": "holidays_us_fed_banks.csv",  // Federal Reserve K.8
}

// Public holidays of 2026 and 2027 against published tables; the source stands
// in each file. Every published day must be one, and no other day from Monday to
// Friday. On weekends the actual day of a holiday kept on a weekday is one too.
func TestPublishedHolidays(t *testing.T) {
	for country, file := range published {
		listed := map[shop.Date]bool{}
		for _, date := range publishedIn(t, file) {
			listed[date] = true
		}
		for date := shop.Date("2026-01-01"); date <= "2027-12-31"; date = date.Add(1) {
			name := holidays.On(country, date)
			weekend := date.Weekday() == time.Saturday || date.Weekday() == time.Sunday
			switch {
			case listed[date] && name == "":
				t.Errorf("%s: %s is a holiday", country, date)
			case !listed[date] && name != "" && !weekend:
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

// Every country keeps a day of its own that its law lays down, so that none is taken
// for another; the laws stand in the file.
func TestNationalDays(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range rowsOf(t, "national_days.csv") {
		country, date := row[0], shop.Date(row[2])
		if !holidays.Known(country) || holidays.On(country, date) == "" {
			t.Errorf("%s does not keep its %s, %s (%s)", country, row[3], date, row[4])
		}
		if name := holidays.On(country, date.Add(-1)); name != "" && date.Weekday() != time.Monday {
			t.Errorf("%s: the day before its %s is taken for %s", country, row[3], name)
		}
		seen[country] = true
	}
	if len(seen) != 24 {
		t.Errorf("%d countries, want 24", len(seen))
	}
}

// A day that a law did away with is none from then on, in either way of asking:
// Denmark's prayer day, the fourth Friday after Easter, was kept in 2023 for the last
// time (Act no. 214 of 6 March 2023). Easter was on 9 April 2023 and 31 March 2024.
func TestAbolishedHoliday(t *testing.T) {
	for date, want := range map[shop.Date]bool{"2023-05-05": true, "2024-04-26": false} {
		if got := holidays.On("DK", date) != ""; got != want {
			t.Errorf("Denmark, %s: holiday %t, want %t", date, got, want)
		}
		year := date.Time().Year()
		if got := slices.ContainsFunc(holidays.Years("DK", year, year),
			func(h holidays.Holiday) bool { return h.Date == date }); got != want {
			t.Errorf("Denmark, list of %d: %s %t, want %t", year, date, got, want)
		}
	}
	for _, h := range holidays.Years("DK", 2024, 2024) {
		if h.Date < "2024-01-01" || h.Date > "2024-12-31" {
			t.Errorf("in the list of 2024: %+v", h)
		}
	}
}

// publishedIn reads the days of a file, which names its source in its head.
func publishedIn(t *testing.T, name string) []shop.Date {
	t.Helper()
	var days []shop.Date
	for _, row := range rowsOf(t, name) {
		days = append(days, shop.Date(row[0]))
	}
	return days
}

func rowsOf(t *testing.T, name string) [][]string {
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
	return rows[1:]
}

// Where nothing is known, and from the year after the table's last on, what nearly every
// country keeps is doubtful, and all else is a day like others.
func TestAtWithoutATable(t *testing.T) {
	last, next := fmt.Sprint(holidays.Last), fmt.Sprint(holidays.Last+1)
	for _, c := range []struct {
		place, date string
		want        holidays.Holiday
	}{
		{"XX", "2026-12-25", holidays.Holiday{Date: "2026-12-25", Name: "Christmas Day", Sure: holidays.Some}},
		{"XX", "2026-01-01", holidays.Holiday{Date: "2026-01-01", Name: "New Year's Day", Sure: holidays.Some}},
		{"XX", "2026-12-24", holidays.Holiday{}},
		{"IE", last + "-12-25", holidays.Holiday{Date: shop.Date(last + "-12-25"), Name: "Christmas Day"}},
		{"IE", next + "-12-25", holidays.Holiday{Date: shop.Date(next + "-12-25"), Name: "Christmas Day",
			Sure: holidays.Some}},
		{"IE", next + "-03-17", holidays.Holiday{}},
	} {
		if got := holidays.At(c.place, shop.Date(c.date)); got != c.want {
			t.Errorf("%s %s: %+v, want %+v", c.place, c.date, got, c.want)
		}
	}
}

// Regions differ by law in the United Kingdom and in Germany (see TestRegions), not in Ireland
// (Organisation of Working Time Act 1997: the same days for all), nor where nothing is known.
func TestDiffer(t *testing.T) {
	for country, want := range map[string]bool{"GB": true, "DE": true, "IE": false, "XX": false} {
		if got := holidays.Differ(country); got != want {
			t.Errorf("%s: regions differ %t, want %t", country, got, want)
		}
	}
}
