package holidays_test

import (
	"slices"
	"testing"
	"time"

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
		if (len(listed) == 0) != (country == "XX") {
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

// The lists of 2026, of 2027 and of both have the published days from Monday to Friday,
// each once and in order, and no other of those years.
func TestPublishedYears(t *testing.T) {
	for country, file := range published {
		for _, span := range [][2]int{{2026, 2026}, {2027, 2027}, {2026, 2027}} {
			var got, want []shop.Date
			for _, h := range holidays.Years(country, span[0], span[1]) {
				got = append(got, h.Date)
			}
			for _, d := range publishedIn(t, file) {
				if year := d.Time().Year(); year >= span[0] && year <= span[1] {
					want = append(want, d)
				}
			}
			weekend := func(d shop.Date) bool {
				return d.Weekday() == time.Saturday || d.Weekday() == time.Sunday
			}
			got, want = slices.DeleteFunc(got, weekend), slices.DeleteFunc(want, weekend)
			if !slices.Equal(got, want) {
				t.Errorf("%s from %d to %d: %v\nwant %v", country, span[0], span[1], got, want)
			}
		}
	}
	if list := holidays.Years("IE", 2027, 2026); len(list) != 0 {
		t.Errorf("years the other way round: %v", list)
	}
}

// A day may be kept in the year before its own: New Year's Day 2022 was a Saturday, so that the Friday
// before was kept (5 U.S.C. 6103(b); Office of Personnel Management, federal holidays of 2021 and 2022).
func TestKeptInTheYearBefore(t *testing.T) {
	for date, want := range map[shop.Date]string{
		"2021-12-31": "New Year's Day, kept on another day",
		"2020-12-31": "New Year's Eve", "2022-12-31": "New Year's Eve",
	} {
		if got := holidays.Doubtful("US", date); got != want {
			t.Errorf("%s: %q, want %q", date, got, want)
		}
	}
}

// The two bank holidays of May before the table's first years, of which one moved in 2020 and the other in
// 2022: the first Monday since 1978 by proclamation, the last by the Banking and Financial Dealings Act
// 1971, schedule 1, and where proclamations in the London Gazette put them elsewhere in 1995, 2002 and 2012.
func TestMayBeforeTheTable(t *testing.T) {
	for date, want := range map[shop.Date]bool{
		"1977-05-02": false, "1978-05-01": true, "1995-05-01": false, "1995-05-08": true, "1995-05-29": true,
		"1996-05-06": true, "1996-05-27": true, "1997-05-05": true, "1997-05-26": true, "1998-05-04": true,
		"1998-05-25": true, "2002-05-06": true, "2002-05-27": false, "2002-06-04": true, "2012-05-07": true,
		"2012-05-28": false, "2012-06-04": true, "2019-05-06": true, "2019-05-27": true, "2020-05-04": false,
	} {
		for _, place := range []string{"GB", "GB-ENG", "GB-SCT"} {
			if got := holidays.On(place, date); (got != "") != want {
				t.Errorf("%s %s: %q", place, date, got)
			}
		}
	}
}
