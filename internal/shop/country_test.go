package shop_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Every zone is in the IANA database that comes with Go, every currency in the
// table of ISO 4217 that cashmath is tested on.
func TestCountries(t *testing.T) {
	before := ""
	for _, c := range shop.Countries() {
		if c.Code <= before || len(c.Code) != 2 || c.Name == "" || len(c.Zones) == 0 {
			t.Errorf("%+v is not well formed or not in order", c)
		}
		before = c.Code
		if _, err := cashmath.LookupCurrency(c.Currency); err != nil {
			t.Errorf("%s: %s: %v", c.Code, c.Currency, err)
		}
		for _, z := range c.Zones {
			if _, err := time.LoadLocation(z); err != nil {
				t.Errorf("%s: %v", c.Code, err)
			}
		}
	}
}

// Every zone of a country is one of its own in the time zone database, and none is there
// twice; the release stands in the file.
func TestZonesOfCountries(t *testing.T) {
	file, err := os.Open("testdata/zones.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	own := map[string]bool{}
	for _, row := range rows[1:] {
		own[row[0]+" "+row[1]] = true
	}
	for _, c := range shop.Countries() {
		for _, z := range c.Zones {
			if !own[c.Code+" "+z] {
				t.Errorf("%s is not in %s, or is there twice", z, c.Name)
			}
			delete(own, c.Code+" "+z)
		}
	}
}

// The countries whose money is the euro: annex to Council Regulation (EC) No 974/98 as
// amended up to Bulgaria's entry on 1 January 2026.
func TestEuroCountries(t *testing.T) {
	var got []string
	for _, c := range shop.Countries() {
		if c.Currency == "EUR" {
			got = append(got, c.Code)
		}
	}
	const want = "AT BE BG CY DE EE ES FI FR GR HR IE IT LT LU LV MT NL PT SI SK"
	if strings.Join(got, " ") != want {
		t.Errorf("euro in %v, want %s", got, want)
	}
}

func TestCountryOf(t *testing.T) {
	for in, want := range map[string]string{
		"ie": "IE", " Ireland ": "IE", "united KINGDOM": "GB", "US": "US", "at": "AT", "South Africa": "ZA",
		"zz": "", "": "", "Ire": "",
	} {
		if c, ok := shop.CountryOf(in); c.Code != want || ok != (want != "") {
			t.Errorf("%q: %q, want %q", in, c.Code, want)
		}
	}
}
