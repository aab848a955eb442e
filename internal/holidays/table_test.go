package holidays_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/dayrule"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

var update = flag.Bool("update", false, "write COUNTRIES.md anew")

// The table is well formed: every line has four columns, its rule can be read, and its
// regions are those of the country.
func TestTable(t *testing.T) {
	raw, err := os.ReadFile("table.txt")
	if err != nil {
		t.Fatal(err)
	}
	country, lines := "", 0
	for text := range strings.Lines(string(raw)) {
		text = strings.TrimSuffix(text, "\n")
		if after, is := strings.CutPrefix(text, "= "); is {
			country = after
		}
		if strings.HasPrefix(text, "=") || strings.HasPrefix(text, "#") || strings.HasPrefix(text, "@") {
			continue
		}
		lines++
		f := strings.Split(text, "\t")
		if len(f) != 4 || f[3] == "" || !strings.Contains(" ~?", f[2]) {
			t.Fatalf("%s: %q", country, text)
		}
		if _, err := dayrule.Parse(f[1]); err != nil {
			t.Errorf("%s: %v", country, err)
		}
		for code := range strings.SplitSeq(strings.TrimPrefix(f[0], "!"), ",") {
			if code != "*" && code != "." && !holidays.Known(country+"-"+code) {
				t.Errorf("%s: no region %q", country, code)
			}
		}
	}
	if lines < 1000 {
		t.Errorf("%d lines", lines)
	}
}

const countriesHead = `# What is known of each country

Written by the test of this package with "-update". Holidays are those of the years %d to %d, from
the npm package date-holidays (code ISC, data CC BY-SA 3.0) with the mends in gen/mends.mjs. Shown is how
many days of 2027 are kept in the whole country, how many of them the moon decides, how many only some keep,
how many regions may be chosen, and whose calendar the banks of the currency keep.

| country | kept | by the moon | by some | regions | currency | bank calendar |
|---|---|---|---|---|---|---|
`

// COUNTRIES.md says of each country what is known of it. It is written by this test, with
// -update, and says the same as the code.
func TestCountries(t *testing.T) {
	var b strings.Builder
	fmt.Fprintf(&b, countriesHead, holidays.First, holidays.Last)
	known := 0
	for _, c := range shop.Countries() {
		kept, moon, some := 0, 0, 0
		for _, h := range holidays.Years(c.Code, 2027, 2027) {
			if kept++; h.Sure == holidays.Moon {
				moon++
			}
		}
		for d := shop.Date("2027-01-01"); d < "2028-01-01"; d = d.Add(1) {
			if holidays.On(c.Code, d) == "" && holidays.Doubtful(c.Code, d) != "" {
				some++
			}
		}
		days := fmt.Sprintf("%d | %d | %d | %d", kept, moon, some, len(holidays.Regions(c.Code)))
		if !holidays.Known(c.Code) {
			days = "**not known** | | |"
		} else {
			known++
		}
		bank := bankdays.CalendarOf(c.Currency).Source
		if bank == "" {
			w := bankdays.Weekend(c.Currency)
			bank = fmt.Sprintf("**weekends only** (%s, %s)", w[0], w[1])
		}
		fmt.Fprintf(&b, "| %s %s | %s | %s | %s |\n", c.Code, c.Name, days, c.Currency, bank)
	}
	fmt.Fprintf(&b, "\nHolidays are known of %d of %d countries.\n", known, len(shop.Countries()))
	if *update {
		if err := os.WriteFile("COUNTRIES.md", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	written, err := os.ReadFile("COUNTRIES.md")
	if err != nil || string(written) != b.String() {
		t.Errorf("COUNTRIES.md does not say what the code does (%v); write it with -update", err)
	}
}

// Regions keep days of their own: laws of the states, from memory, named beside each.
func TestRegions(t *testing.T) {
	for _, c := range []struct {
		place string
		date  shop.Date
		want  bool
	}{
		{"GB-SCT", "2026-01-02", true}, {"GB-ENG", "2026-01-02", false}, // 2 January, Scotland
		{"GB-SCT", "2026-08-03", true}, {"GB-SCT", "2026-08-31", false}, // summer, first and last Monday
		{"GB-NIR", "2026-03-17", true}, {"GB", "2026-03-17", false}, // St Patrick, Northern Ireland
		{"DE-BY", "2026-01-06", true}, {"DE-BE", "2026-01-06", false}, // Epiphany, Bavaria
		{"DE-SN", "2026-11-18", true}, {"DE-BY", "2026-11-18", false}, // penance day, Saxony
		{"CH-TI", "2027-05-27", true}, {"CH-ZH", "2027-05-27", false}, // Corpus Christi, Ticino
		{"CH-ZH", "2027-08-01", true}, {"CH", "2027-08-01", true},
		{"CA-QC", "2026-06-24", true}, {"CA-ON", "2026-06-24", false}, // national holiday of Quebec
		{"CA-ON", "2026-02-16", true}, {"CA", "2026-02-16", false}, // family day
		{"AU-VIC", "2026-11-03", true}, {"AU-NSW", "2026-11-03", false}, // cup day, Victoria
		{"ES-CT", "2036-09-11", true}, {"ES-MD", "2036-09-11", false}, // Catalonia
	} {
		if got := holidays.On(c.place, c.date) != ""; got != c.want {
			t.Errorf("%s %s: holiday %t, want %t", c.place, c.date, got, c.want)
		}
	}
	if holidays.Known("GB-XX") || holidays.On("GB-XX", "2026-12-25") != "" || holidays.Place("GB", "") != "GB" ||
		holidays.Place("GB", "SCT") != "GB-SCT" {
		t.Error("a region that there is not is known")
	}
	if holidays.Doubtful("CA", "2026-02-16") == "" || holidays.Doubtful("CA-ON", "2026-02-16") != "" {
		t.Error("a day of a province is to be asked about where no province is laid down")
	}
	if len(holidays.Regions("CH")) != 26 || holidays.Regions("CH")[0].Code != "AG" {
		t.Errorf("cantons %v", holidays.Regions("CH"))
	}
}

// Easter and Whit Sunday are holidays where the law says so: laws from memory.
func TestSundays(t *testing.T) {
	for _, country := range strings.Fields("DK NO SE NL PL GR BG LT HU CY") {
		for _, d := range []shop.Date{"2026-04-05", "2026-04-12"} { // western, eastern
			eastern := strings.Contains("GR BG CY", country)
			if got := holidays.On(country, d) != ""; got != (eastern == (d == "2026-04-12")) {
				t.Errorf("%s %s: Easter Sunday %t", country, d, got)
			}
		}
	}
	for _, country := range strings.Fields("DK NO SE NL") {
		if holidays.On(country, "2027-05-16") == "" {
			t.Errorf("%s does not keep Whit Sunday", country)
		}
	}
	if holidays.On("PT", "2027-12-25") == "" || holidays.On("NL", "2027-03-26") != "" {
		t.Error("Christmas in Portugal and no Good Friday in the Netherlands")
	}
}

// A day between two national holidays is one in Japan (Act on National Holidays, article 3, paragraph 3):
// on 21 September 2032, since the third Monday is the 20th and the equinox the 22nd. A day in place of
// Christmas is for each region of Spain to say, and one in place of Anzac Day for each year.
func TestMends(t *testing.T) {
	for _, c := range []struct {
		place string
		date  shop.Date
		want  holidays.Sure
	}{
		{"JP", "2032-09-21", holidays.Kept}, {"JP", "2026-09-22", holidays.Kept},
		{"ES", "2033-12-26", holidays.Some}, {"ES-MD", "2033-12-26", holidays.Kept},
		{"AU-NSW", "2026-04-27", holidays.Kept}, {"AU-NSW", "2032-04-26", holidays.Some},
		{"CA-QC", "2029-07-02", holidays.Some},
	} {
		if h := holidays.At(c.place, c.date); h.Name == "" || h.Sure != c.want {
			t.Errorf("%s %s: %+v, want %q", c.place, c.date, h, c.want)
		}
	}
}
