package when_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// The table against what Unicode CLDR publishes for each country.
func TestOrderIsThatOfCLDR(t *testing.T) {
	published, err := os.ReadFile("testdata/order.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows, known := 0, map[string]bool{}
	for line := range strings.Lines(string(published)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		x := strings.Split(strings.TrimSpace(line), "\t")
		country, format := x[0], x[2]
		want := when.DayFirst
		if strings.Index(format, "M") < strings.Index(format, "d") {
			want = when.MonthFirst
		}
		rows++
		known[country] = true
		switch got := when.OrderOf(country); {
		case got == when.OrderUnknown && want == when.MonthFirst: // people write both
		case got != want:
			t.Errorf("%s: %d, but %s is written %s", country, got, x[1], format)
		}
	}
	if rows < 200 {
		t.Fatalf("only %d countries", rows)
	}
	for _, c := range shop.Countries() {
		if !known[c.Code] {
			t.Errorf("nothing published for %s", c.Code)
		}
	}
}

func TestOrderOf(t *testing.T) {
	for country, want := range map[string]when.Order{
		"US": when.MonthFirst, "PH": when.MonthFirst, "JP": when.MonthFirst, "HU": when.MonthFirst,
		"IE": when.DayFirst, "SE": when.DayFirst, "XX": when.DayFirst,
		"CA": when.OrderUnknown, "ZA": when.OrderUnknown, "": when.OrderUnknown, "U": when.OrderUnknown,
		"US VI": when.OrderUnknown,
	} {
		if got := when.OrderOf(country); got != want {
			t.Errorf("%q: %d, want %d", country, got, want)
		}
	}
}

// Any two figures with a slash: where the order is not known, only what has one
// reading is read, and it is the same then in every country.
func TestNothingIsGuessed(t *testing.T) {
	words := english(t)
	for a := range 34 {
		for b := range 34 {
			text := fmt.Sprintf("%d/%d/2024", a, b) // a leap year
			var got [3]shop.Date
			var why [3]when.Reason
			for _, o := range []when.Order{when.OrderUnknown, when.DayFirst, when.MonthFirst} {
				got[o], why[o] = when.Reader{Words: words, Today: "2026-11-26", Order: o}.Day(text, when.Ahead)
			}
			either := a >= 1 && a <= 12 && b >= 1 && b <= 12 && a != b
			switch {
			case either && why[when.OrderUnknown] != when.Ambiguous:
				t.Errorf("%s: %s %q, two readings", text, got[0], why[0])
			case either && (got[when.DayFirst] != date(2024, b, a) || got[when.MonthFirst] != date(2024, a, b)):
				t.Errorf("%s: %v", text, got)
			case !either && (got[0] != got[1] || got[1] != got[2] || why[0] != why[1] || why[1] != why[2]):
				t.Errorf("%s: %v %v, one reading", text, got, why)
			case !either && why[0] == when.OK && got[0] != date(2024, b, a) && got[0] != date(2024, a, b):
				t.Errorf("%s: %s", text, got[0])
			}
		}
	}
}

func date(year, month, day int) shop.Date {
	return shop.Date(fmt.Sprintf("%04d-%02d-%02d", year, month, day))
}
