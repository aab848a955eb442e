package dayrule_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dayrule"
)

func days(t *testing.T, text string, years ...int) string {
	t.Helper()
	r, err := dayrule.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, y := range years {
		for _, d := range r.In(y) {
			list = append(list, string(d))
		}
	}
	return strings.Join(list, " ")
}

// Each kind of rule by hand along the calendar. 25 December 2026 is a Friday, that of
// 2027 a Saturday, that of 2028 a Monday.
func TestRules(t *testing.T) {
	for text, want := range map[string]string{
		"f 1225":                 "2026-12-25 2027-12-25 2028-12-25",
		"e 1":                    "2026-04-06 2027-03-29 2028-04-17",
		"o -2":                   "2026-04-10 2027-04-30 2028-04-14",
		"w 05 1 1":               "2026-05-04 2027-05-03 2028-05-01",
		"w 11 4 4":               "2026-11-26 2027-11-25 2028-11-23",
		"w 08 -1 1":              "2026-08-31 2027-08-30 2028-08-28",
		"a 0620 6":               "2026-06-20 2027-06-26 2028-06-24",
		"m 1225 2.....2":         "2027-12-27",
		"m 0704 1.....a":         "2026-07-03 2027-07-05",
		"2027- f 0101":           "2027-01-01 2028-01-01",
		"-2026 f 0101":           "2026-01-01",
		"2027-2027 f 0101":       "2027-01-01",
		"d 261225,280102,280103": "2026-12-25 2028-01-02 2028-01-03",
	} {
		if got := days(t, text, 2026, 2027, 2028); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// Easter Sundays, the last ones the latest and nearly the earliest there are. Western and
// eastern dates from memory; the closing days of TARGET and of Romanian banks, which are
// reckoned from them, are compared with a reference library in bankdays.
func TestEaster(t *testing.T) {
	years := []int{2024, 2025, 2026, 2027, 2028, 2029, 2030, 2035, 2038}
	if got, want := days(t, "e 0", years...), "2024-03-31 2025-04-20 2026-04-05 2027-03-28 2028-04-16 "+
		"2029-04-01 2030-04-21 2035-03-25 2038-04-25"; got != want {
		t.Errorf("western: %s", got)
	}
	if got, want := days(t, "o 0", years[:7]...), "2024-05-05 2025-04-20 2026-04-12 2027-05-02 2028-04-16 "+
		"2029-04-08 2030-04-28"; got != want {
		t.Errorf("eastern: %s", got)
	}
}

func TestRulesRefused(t *testing.T) {
	for _, text := range []string{"", "f", "f 1232", "f 0230", "f x", "f 1225 1", "e", "e x", "w 13 1 1",
		"w 05 5 1",
		"w 05 0 1", "w 05 1 7", "a 0620", "a 0620 7", "a 0631 1", "m 1225", "m 1225 1", "m 1225 x......",
		"m 1232 .......", "d", "d 2612", "d 261225 271225", "z 1", "20x- f 0101", "2027-", "2027-x f 0101"} {
		if _, err := dayrule.Parse(text); err == nil {
			t.Errorf("%q is taken for a rule", text)
		}
	}
}
