package lands_test

import (
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"

	"shopfloat/internal/lands"
	"shopfloat/internal/shop"
)

// What people type for their country, as it was refused once.
func TestFind(t *testing.T) {
	for typed, code := range map[string]string{
		"USA": "US", "U.S.A.": "US", "america": "US", "the United States": "US", "United States of America": "US",
		"England": "GB", "Great Britain": "GB", "UK": "GB", "u.k.": "GB", "Scotland": "GB", "gb": "GB",
		"Holland": "NL", "Nederland": "NL", "the netherlands": "NL", "Deutschland": "DE", " germany ": "DE",
		"Schweiz": "CH", "Suisse": "CH", "svizzera": "CH", "Polska": "PL", "España": "ES", "espana": "ES",
		"Österreich": "AT", "Osterreich": "AT", "Oesterreich": "AT", "Česko": "CZ", "czech republic": "CZ",
		"日本": "JP", "Ελλάδα": "GR", "ελλαδα": "GR",
		"Україна": "UA", "대한민국": "KR", "Türkiye": "TR", "turkiye": "TR",
		"Bosnia and Herzegovina": "BA", "bosnia-herzegovina": "BA", "Éire": "IE", "Eire": "IE",
		"Côte d'Ivoire": "CI",
		"Paraguay":      "PY", "norge": "NO", "Suomi": "FI", "Magyarország": "HU", "Lëtzebuerg": "LU",
	} {
		if got, ok := lands.Find(typed); !ok || got.Code != code {
			t.Errorf("%q: %v %t, want %s", typed, got, ok, code)
		}
	}
	for _, typed := range []string{"QQ", "XX", "ZZ", "AA", "", " ", "1", "Atlantis", "Europe", "und", "IEE"} {
		if got, ok := lands.Find(typed); ok {
			t.Errorf("%q is taken for %v", typed, got)
		}
	}
}

// Every country of the program is found by its name in the Unicode CLDR, in English and in the
// likeliest language of the country, by its code, and by the name that the program shows.
func TestNamesOfCLDR(t *testing.T) {
	seen := 0
	for _, c := range shop.Countries() {
		region := language.MustParseRegion(c.Code)
		likely, err := language.Compose(language.Und, region)
		if err != nil {
			t.Fatal(err)
		}
		base, _ := likely.Base()
		names := []string{c.Code, strings.ToLower(c.Code), c.Name, display.English.Regions().Name(region)}
		if namer := display.Regions(language.Make(base.String())); namer != nil {
			names = append(names, namer.Name(region))
			seen++
		}
		for _, name := range names {
			if got, ok := lands.Find(name); !ok || got.Code != c.Code {
				t.Errorf("%s: %q leads to %v %t", c.Code, name, got, ok)
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d countries have a name of their own language", seen)
	}
}

// Every code is one of a country of ISO 3166-1 as the CLDR knows them, and stands once.
func TestCodes(t *testing.T) {
	n := 0
	for a := 'A'; a <= 'Z'; a++ {
		for z := 'A'; z <= 'Z'; z++ {
			code := string(a) + string(z)
			got, ok := lands.Find(code)
			if !ok || got.Code != code {
				continue
			}
			n++
			if r, err := language.ParseRegion(code); err != nil || !r.IsCountry() || got.Name == "" ||
				!unicode.IsUpper([]rune(got.Name)[0]) {
				t.Errorf("%s %v", code, got)
			}
		}
	}
	if n < 235 || n > 250 {
		t.Errorf("%d countries; ISO 3166-1 has 249", n)
	}
}

// A slip of one letter is asked back where it can mean one country only.
func TestNear(t *testing.T) {
	for typed, code := range map[string]string{"Irelnad": "IE", "Irland": "IE", "Germny": "DE", "Itally": "IT",
		"Austra": "AT", "Austrlia": "", "Iran": "", "Irak": "", "Ned": "", "Polnad": "PL", "Slovnia": "SI",
		"Nigeri": "", "Switzerlnd": "CH"} {
		if got, ok := lands.Near(typed); ok != (code != "") || got.Code != code {
			t.Errorf("%q: %v %t, want %q", typed, got, ok, code)
		}
	}
}
