package shop_test

import (
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

func TestCountryOf(t *testing.T) {
	for in, want := range map[string]string{"ie": "IE", " Ireland ": "IE", "united KINGDOM": "GB", "US": "US", "zz": "", "": ""} {
		if c, ok := shop.CountryOf(in); c.Code != want || ok != (want != "") {
			t.Errorf("%q: %q, want %q", in, c.Code, want)
		}
	}
}
