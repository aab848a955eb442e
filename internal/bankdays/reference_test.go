package bankdays_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/dayrule"
	"shopfloat/internal/shop"
)

// apart are the days on which the reference library and these calendars part: rules of
// days that are closed here alone, and open here alone, each for a reason.
var apart = map[string]struct{ closed, open []string }{
	// Juneteenth on a Saturday: Reserve Banks stay open on the Friday (K.8, footnote)
	"USD": {open: []string{"d 270618"}},
	// Berchtold's Day and Labour Day are cantonal; SIC settles
	"CHF": {open: []string{"f 0102", "f 0501"}},
	// Family Day and the civic holiday are provincial; Lynx settles
	"CAD": {open: []string{"w 02 3 1", "w 08 1 1"}},
	// the bank holiday and Labour Day of New South Wales; RITS settles
	"AUD": {open: []string{"w 08 1 1", "w 10 1 1"}},
	// Christmas Eve since 2025 (Act of 6 December 2024), after the library's date
	"PLN": {closed: []string{"2025- f 1224"}},
	// the prayer day was kept in 2023 for the last time (Act no. 214 of 6 March 2023); the day
	// after Ascension, Christmas Eve and New Year's Eve are closing days of banks
	"DKK": {closed: []string{"e 40", "f 1224", "f 1231"}, open: []string{"e 26"}},
	// Good Friday since 2018 (Law 64/2018), 6 and 7 January since 2024 (Law 52/2023)
	"RON": {closed: []string{"o -2", "2024- f 0106", "2024- f 0107"}},
	// Matariki since 2022 (Te Kāhui o Matariki Public Holiday Act 2022, schedule 1); the
	// anniversary of Wellington is provincial
	"NZD": {closed: []string{"d 240628,250620,260710,270625,280714,290706,300621,360718,370710"},
		open: []string{"a 0119 1"}},
	// the day of the election of 2024 (Proclamation 158 of 2024)
	"ZAR": {closed: []string{"d 240529"}},
}

// Seventeen calendars against a reference library, every day from Monday to
// Friday of nine years, two of them after 2035. Days that part are named above.
func TestReference(t *testing.T) { compare(t, "reference.csv", 17, apart) }

// apartToo is the same for the second source, which lists public holidays: five calendars whose own source
// was not read again.
var apartToo = map[string]struct{ closed, open []string }{
	// the bank holiday and Labour Day of New South Wales, and its Monday after an Anzac Day on a weekend
	// since 2026; RITS settles, of that Monday it is not known
	"AUD": {open: []string{"w 08 1 1", "w 10 1 1", "d 260427,270426,370427"}},
	// Truth and Reconciliation, Remembrance Day, and Mondays in place of a weekend are days of banks; Family
	// Day is Ontario's, Easter Monday is one of the federal service
	"CAD": {closed: []string{"f 0930", "f 1111", "m 0930 1.....2", "m 1111 1.....2", "m 0101 1.....2",
		"m 0701 1.....2", "m 1225 2.....2", "m 1226 2.....2"}, open: []string{"w 02 3 1", "e 1"}},
	// the day after Ascension, Constitution Day, Christmas Eve and New Year's Eve are closing days of banks
	"DKK": {closed: []string{"e 40", "f 0605", "f 1224", "f 1231"}},
	// on New Year's Eve banks close at 14:00
	"NOK": {open: []string{"f 1231"}},
}

// Five calendars against a second source, which is no bank's.
func TestSecondSource(t *testing.T) { compare(t, "second.csv", 5, apartToo) }

// compare holds calendars against listed days of nine years, but for those that are known to part.
func compare(t *testing.T, name string, many int, apart map[string]struct{ closed, open []string }) {
	t.Helper()
	compared, parted := 0, map[string]bool{}
	for _, row := range rows(t, name) {
		currency, year, listed := row[0], row[1], strings.Fields(row[2])
		for d := shop.Date(year + "-01-01"); d <= shop.Date(year+"-12-31"); d = d.Add(1) {
			if weekend(d) {
				continue
			}
			compared++
			closed := slices.Contains(listed, string(d[5:7]+d[8:]))
			switch got := !bankdays.Open(currency, d); {
			case got == closed:
			case got && falls(t, apart[currency].closed, d), closed && falls(t, apart[currency].open, d):
				parted[currency] = true
			default:
				t.Errorf("%s %s: closed %t, %s says %t", currency, d, got, name, closed)
			}
		}
	}
	if compared < many*9*260 {
		t.Errorf("%d days compared", compared)
	}
	for currency := range apart {
		if !parted[currency] {
			t.Errorf("%s does not part from %s", currency, name)
		}
	}
}

func falls(t *testing.T, rules []string, d shop.Date) bool {
	t.Helper()
	return slices.ContainsFunc(rules, func(text string) bool {
		r, err := dayrule.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return slices.Contains(r.In(d.Time().Year()), d)
	})
}

// Every rule of every calendar can be read, gives days in most years, and names a source.
func TestCalendarsAreWellFormed(t *testing.T) {
	list := bankdays.Calendars()
	for _, c := range list {
		if c.Source == "" || !bankdays.Known(c.Currency) {
			t.Errorf("%s names no source", c.Currency)
		}
		for _, text := range c.Rules() {
			r, err := dayrule.Parse(text)
			if err != nil {
				t.Fatalf("%s: %v", c.Currency, err)
			}
			days := 0
			for year := 2020; year < 2040; year++ {
				days += len(r.In(year))
				for _, d := range r.In(year) {
					if d.Time().Year() < year { // nobody looks for those of the next year
						t.Errorf("%s: %q has %s in %d", c.Currency, text, d, year)
					}
				}
			}
			if days == 0 {
				t.Errorf("%s: %q gives no day", c.Currency, text)
			}
		}
		closed := 0
		for d := shop.Date("2036-01-01"); d < "2037-01-01"; d = d.Add(1) {
			if !weekend(d) && !bankdays.Open(c.Currency, d) {
				closed++
			}
		}
		if closed < 5 || closed > 20 {
			t.Errorf("%s: %d closing days in 2036", c.Currency, closed)
		}
	}
	if len(list) < 18 {
		t.Errorf("%d calendars", len(list))
	}
}

// Banks of the Gulf do not pay on Fridays.
func TestWeekend(t *testing.T) {
	if w := bankdays.Weekend("SAR"); w != [2]time.Weekday{time.Friday, time.Saturday} {
		t.Errorf("the weekend of SAR is %v", w)
	}
	if w := bankdays.Weekend("EUR"); w != [2]time.Weekday{time.Saturday, time.Sunday} {
		t.Errorf("the weekend of EUR is %v", w)
	}
}
