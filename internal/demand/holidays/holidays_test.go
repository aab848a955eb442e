package holidays_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"

	"shopfloat/internal/demand/holidays"
)

// England and Wales 2026 and 2027 by the UK government's bank holiday data; the source
// stands in the file. Every published day must be there. Beside them the list holds the
// actual date of a holiday whose substitute is observed: 26 December 2026, 25 and 26 December 2027.
func TestEnglandAndWales(t *testing.T) {
	list, err := holidays.Of("gb", 2026, 2027)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]bool{}
	for _, h := range list {
		got[h.Day.String()] = true
	}
	for _, day := range published(t, "holidays_england_wales.csv") {
		if !got[day] {
			t.Errorf("%s is missing", day)
		}
		delete(got, day)
	}
	for _, day := range []string{"2026-12-26", "2027-12-25", "2027-12-26"} {
		delete(got, day)
	}
	for day := range got {
		t.Errorf("%s is not a public holiday", day)
	}
}

func published(t *testing.T, name string) []string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "..", "testdata", "demand", name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var days []string
	for _, row := range rows[1:] {
		days = append(days, row[0])
	}
	if len(days) == 0 {
		t.Fatal("no published days")
	}
	return days
}

func TestEveryCountryInOrder(t *testing.T) {
	for _, country := range []string{"AT", "BE", "DE", "ES", "FR", "GB", "IE", "IT", "NL", "US"} {
		list, err := holidays.Of(country, 2024, 2028)
		if err != nil || len(list) < 5*5 {
			t.Errorf("%s: %d holidays in five years, %v", country, len(list), err)
		}
		for i, h := range list {
			if h.Name == "" || i > 0 && h.Day < list[i-1].Day {
				t.Errorf("%s: %s %q is out of order or has no name", country, h.Day, h.Name)
			}
		}
	}
}

func TestUnknownCountry(t *testing.T) {
	for _, country := range []string{"", "XX", "England"} {
		if list, err := holidays.Of(country, 2026, 2026); err == nil {
			t.Errorf("%q: %v, want an error", country, list)
		}
	}
}
