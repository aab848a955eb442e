package bankdays_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/shop"
)

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

// Every day of 2026 and 2027 is open or closed as the published lists say: the
// closing days of TARGET (ECB), the bank holidays of England and Wales (gov.uk)
// and those of the Federal Reserve Banks (K.8).
func TestPublished(t *testing.T) {
	for file, currency := range map[string]string{
		"holidays_target.csv": "EUR", "holidays_england_wales.csv": "GBP", "holidays_us_fed_banks.csv": "USD",
	} {
		closed := map[shop.Date]bool{}
		for _, row := range rows(t, file) {
			closed[shop.Date(row[0])] = true
		}
		for d := shop.Date("2026-01-01"); d < "2028-01-01"; d = d.Add(1) {
			weekend := d.Weekday() == time.Saturday || d.Weekday() == time.Sunday
			if want := !weekend && !closed[d]; bankdays.Open(currency, d) != want {
				t.Errorf("%s %s: open %t, want %t", currency, d, !want, want)
			}
		}
	}
}

// A settlement after the cut-off is the next day's (common practice, no source).
func TestCutOff(t *testing.T) {
	friday := time.Date(2026, 11, 27, 21, 5, 0, 0, time.UTC)
	for _, tc := range []struct {
		rule bankdays.Rule
		want shop.Date
	}{
		{bankdays.Rule{Days: 1}, "2026-11-30"},
		{bankdays.Rule{Days: 1, CutOff: 21*60 + 5}, "2026-11-30"},
		{bankdays.Rule{Days: 1, CutOff: 18 * 60}, "2026-11-30"},
		{bankdays.Rule{Days: 1, CutOff: 18 * 60, Roll: true}, "2026-12-01"},
	} {
		if got := tc.rule.Due("EUR", friday); got != tc.want {
			t.Errorf("%+v: %s, want %s", tc.rule, got, tc.want)
		}
	}
}

func TestKnown(t *testing.T) {
	for currency, want := range map[string]bool{"EUR": true, "GBP": true, "USD": true, "KWD": false} {
		if bankdays.Known(currency) != want {
			t.Errorf("%s: %t", currency, !want)
		}
	}
	if bankdays.Open("KWD", "2026-11-28") || !bankdays.Open("KWD", "2026-11-27") {
		t.Error("without a calendar only Saturdays and Sundays are closed")
	}
}
