package bankdays_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// currencies are those of the published calendars.
var currencies = map[string]string{"england_wales": "GBP", "target": "EUR", "us_fed": "USD"}

func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatal(name, err)
	}
	return all[1:]
}

// Due dates of both readings of T+n. The source of each calendar stands in the
// header of its file; the due dates follow from them by counting.
func TestDue(t *testing.T) {
	differ := 0
	for _, row := range rows(t, "credit_due_t_plus_n.csv") {
		n, err := strconv.Atoi(row[3])
		if err != nil {
			t.Fatal(err)
		}
		on := bankdays.Rule{Days: n}.After(currencies[row[0]], shop.Date(row[1]))
		first := bankdays.Rule{Days: n, Roll: true}.After(currencies[row[0]], shop.Date(row[1]))
		if string(on) != row[4] || string(first) != row[5] {
			t.Errorf("%s %s + %d: %s or %s, want %s or %s", row[0], row[1], n, on, first, row[4], row[5])
		}
		if on != first {
			differ++
		}
	}
	if differ == 0 {
		t.Error("no row tells the two readings apart")
	}
}

// calendars are the files with the closing days of 2026 and 2027, by the name that
// the table of due dates has for them.
var calendars = map[string]string{
	"england_wales": "england_wales", "target": "target", "us_fed": "us_fed_banks",
}

// Every day of 2026 and 2027 is open or closed as the published lists say: the
// closing days of TARGET (ECB), the bank holidays of England and Wales (gov.uk)
// and those of the Federal Reserve Banks (K.8).
func TestPublished(t *testing.T) {
	for calendar, currency := range currencies {
		closed := published(t, "holidays_"+calendars[calendar]+".csv")
		for d := shop.Date("2026-01-01"); d < "2028-01-01"; d = d.Add(1) {
			if want := !weekend(d) && !closed[d]; bankdays.Open(currency, d) != want {
				t.Errorf("%s %s: open %t, want %t", currency, d, !want, want)
			}
		}
	}
}

func published(t *testing.T, name string) map[shop.Date]bool {
	t.Helper()
	closed := map[shop.Date]bool{}
	for _, row := range rows(t, name) {
		closed[shop.Date(row[0])] = true
	}
	return closed
}

func weekend(d shop.Date) bool { return d.Weekday() == time.Saturday || d.Weekday() == time.Sunday }

// Credits counted by hand along the published closing days: of all days from the first
// one on that banks are open, without a look at the code's calendar.
func TestDueAlongPublishedDays(t *testing.T) {
	for calendar, currency := range currencies {
		closed, open := published(t, "holidays_"+calendars[calendar]+".csv"), []shop.Date(nil)
		for d := shop.Date("2026-01-01"); d < "2028-01-01"; d = d.Add(1) {
			if !weekend(d) && !closed[d] {
				open = append(open, d)
			}
		}
		for start := shop.Date("2026-01-01"); start < "2027-12-01"; start = start.Add(1) {
			after := slices.IndexFunc(open, func(d shop.Date) bool { return d > start })
			from := slices.IndexFunc(open, func(d shop.Date) bool { return d >= start })
			if got := bankdays.Next(currency, start); got != open[from] {
				t.Errorf("%s %s: banks pay next on %s, want %s", currency, start, got, open[from])
			}
			for n := 1; n <= 5; n++ {
				if got := (bankdays.Rule{Days: n}).After(currency, start); got != open[after+n-1] {
					t.Errorf("%s %s + %d: %s, want %s", currency, start, n, got, open[after+n-1])
				}
				if got := (bankdays.Rule{Days: n, Roll: true}).After(currency, start); got != open[from+n] {
					t.Errorf("%s %s rolled + %d: %s, want %s", currency, start, n, got, open[from+n])
				}
			}
		}
	}
}

// A settlement at the cut-off is that day's and one a minute later the next day's
// (common practice, no source); hours count as sixty minutes.
func TestCutOff(t *testing.T) {
	const nineFive = 21*60 + 5
	at := func(day, hour, minute, second int) time.Time {
		return time.Date(2026, 11, day, hour, minute, second, 0, time.UTC)
	}
	for _, tc := range []struct {
		rule    bankdays.Rule
		settled time.Time
		want    shop.Date
	}{
		{bankdays.Rule{Days: 1}, at(25, 21, 5, 0), "2026-11-26"}, // a Wednesday, no cut-off
		{bankdays.Rule{Days: 1}, at(25, 23, 59, 59), "2026-11-26"},
		{bankdays.Rule{Days: 1, CutOff: nineFive}, at(25, 21, 4, 0), "2026-11-26"},
		{bankdays.Rule{Days: 1, CutOff: nineFive}, at(25, 21, 5, 59), "2026-11-26"},
		{bankdays.Rule{Days: 1, CutOff: nineFive}, at(25, 21, 6, 0), "2026-11-27"},
		{bankdays.Rule{Days: 1, CutOff: nineFive}, at(25, 7, 59, 0), "2026-11-26"},
		{bankdays.Rule{Days: 1, CutOff: 1}, at(25, 0, 1, 0), "2026-11-26"},
		{bankdays.Rule{Days: 1, CutOff: 1}, at(25, 0, 2, 0), "2026-11-27"},
		{bankdays.Rule{Days: 1, CutOff: 18 * 60}, at(27, 21, 5, 0), "2026-11-30"}, // Friday evening is Saturday's
		{bankdays.Rule{Days: 1, CutOff: 18 * 60, Roll: true}, at(27, 21, 5, 0), "2026-12-01"},
		{bankdays.Rule{Days: 2, CutOff: 18 * 60}, at(30, 18, 1, 0), "2026-12-03"}, // over the end of a month
	} {
		if got := tc.rule.Due("EUR", tc.settled); got != tc.want {
			t.Errorf("%+v on %s: %s, want %s", tc.rule, tc.settled.Format("2 15:04:05"), got, tc.want)
		}
	}
}

// The clock on the wall where the settlement was made decides, whatever it is elsewhere.
func TestCutOffOnTheShopsClock(t *testing.T) {
	tokyo := time.FixedZone("", 9*60*60)
	settled := time.Date(2026, 11, 26, 1, 0, 0, 0, tokyo) // Wednesday, 16:00 in London
	if got := (bankdays.Rule{Days: 1, CutOff: 18 * 60}).Due("JPY", settled); got != "2026-11-27" {
		t.Errorf("a Thursday's in Tokyo is due %s, want 2026-11-27", got)
	}
}

// Banks of a currency keep the national day of its own country; the laws stand in the file.
func TestNationalDays(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range rows(t, "../../../testdata/holidays/national_days.csv") {
		currency, date := row[1], shop.Date(row[2])
		if currency == "EUR" {
			continue
		}
		if !bankdays.Known(currency) || bankdays.Open(currency, date) {
			t.Errorf("%s: banks are open on %s, %s (%s)", currency, row[3], date, row[4])
		}
		seen[currency] = true
	}
	if len(seen) != 10 {
		t.Errorf("national days of %d currencies, want 10", len(seen))
	}
}

func TestKnown(t *testing.T) {
	for currency, want := range map[string]bool{
		"EUR": true, "GBP": true, "USD": true, "DKK": true, "KWD": false, "": false,
	} {
		if bankdays.Known(currency) != want {
			t.Errorf("%s: %t", currency, !want)
		}
	}
	for currency, closed := range map[string][3]bool{"MAD": {false, true, true}, "KWD": {true, true, false}} {
		for i, d := range []shop.Date{"2026-11-27", "2026-11-28", "2026-11-29"} { // Friday to Sunday
			if bankdays.Open(currency, d) == closed[i] {
				t.Errorf("%s %s: without a calendar only the country's weekend is closed", currency, d)
			}
		}
	}
}

// A calendar that follows the public holidays of a place ends where their table does; one by
// rules alone, and one of which only the weekend is known, have no end.
func TestUntil(t *testing.T) {
	for currency, want := range map[string]int{"GBP": holidays.Last, "JPY": holidays.Last, "EUR": 0, "XXX": 0} {
		if got := bankdays.CalendarOf(currency).Until(); got != want {
			t.Errorf("%s: until %d, want %d", currency, got, want)
		}
	}
}
