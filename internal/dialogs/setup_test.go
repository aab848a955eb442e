package dialogs_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/dialogs/floor"
)

// fresh is a floor whose shop was just claimed.
func fresh(t *testing.T) *floor.Floor {
	f := newFloor(t)
	f.Shop.Fresh, f.Shop.Machines, f.Machine = true, nil, nil
	f.Says("owner", "hello")
	f.Says("owner", "Corner shop")
	return f
}

// table reads a published table; its source stands in the file's header.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("../../testdata/check-values/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	r := csv.NewReader(file)
	r.Comment, r.FieldsPerRecord = '#', -1
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 10 {
		t.Fatal(name, err)
	}
	return rows[1:]
}

// Every currency of ISO 4217, List One, can be set up, but for its fund codes
// and units of account, of which there are no notes.
func TestSetUpTakesEveryCurrency(t *testing.T) {
	funds := "BOV CHE CHW CLF COU MXV USN UYI UYW"
	n := 0
	for _, row := range table(t, "iso4217_minor_units.csv") {
		code := row[0]
		f := fresh(t)
		f.Says("owner", "Paraguay")
		f.Says("owner", "Asia/Tokyo")
		got := f.Says("owner", strings.ToLower(code))
		if taken := strings.Contains(got, "call the machine"); taken == strings.Contains(funds, code) {
			t.Errorf("%s: taken %v\n%s", code, taken, got)
		}
		n++
	}
	if n < 160 {
		t.Errorf("only %d currencies", n)
	}
}

// A face value that circulates by the published table is taken as it is; one
// that does not is asked back, never refused.
func TestSetUpKnowsNotes(t *testing.T) {
	countries := map[string]string{"EUR": "IE", "GBP": "GB", "USD": "US", "CHF": "CH", "CAD": "CA", "AUD": "AU"}
	known := map[string]bool{}
	for _, row := range table(t, "banknotes.csv") {
		known[row[0]+" "+row[1]] = true
	}
	if len(known) < 25 {
		t.Fatalf("only %d kinds of note", len(known))
	}
	for currency, country := range countries {
		for _, face := range []string{"1", "2", "3", "5", "7", "10", "20", "50", "100", "200", "500", "1000"} {
			f := fresh(t)
			asks := f.Says("owner", country)
			if strings.Contains(asks, "part of the country") {
				asks = f.Taps("owner", "Another part")
			}
			if strings.Contains(asks, "city's clock") {
				f.Says("owner", "Europe/London")
			}
			f.Says("owner", "Machine")
			got := f.Says("owner", face)
			asked := strings.Contains(got, "Is it right all the same?")
			if asked == known[currency+" "+face] {
				t.Errorf("%s %s: asked back %v\n%s", currency, face, asked, got)
			}
			if asked {
				if got = f.Taps("owner", "It is right"); !strings.Contains(got, "fit into each") {
					t.Errorf("%s %s is refused:\n%s", currency, face, got)
				}
			}
		}
	}
}

// Back leads to every question before, and to none after.
func TestSetUpBack(t *testing.T) {
	f := fresh(t)
	for _, s := range []string{"Ireland", "Machine", "50 20 10", "2000", "40", "100", "Emptied, safe locked",
		"40000"} {
		f.Says("owner", s)
	}
	want := []string{
		"most cash",
		"at night",
		"bundle",
		"nearly empty",
		"fit into each",
		"top to bottom",
		"call the machine",
		"which country",
		"shop called",
	}
	for _, part := range want {
		if got := f.Says("owner", "back"); !strings.Contains(got, part) {
			t.Fatalf("want %q, got\n%s", part, got)
		}
	}
	if got := f.Says("owner", "Another name"); !strings.Contains(got, "shop open?") {
		t.Errorf("what was answered before is asked again:\n%s", got)
	}
}
