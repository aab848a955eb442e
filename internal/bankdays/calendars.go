package bankdays

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"shopfloat/internal/dayrule"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// Calendar is what is known of the days on which the banks of a currency pay.
type Calendar struct {
	Currency string // ISO 4217
	Source   string // who lays the days down; empty where only the weekend is known

	public string   // the place whose public holidays they are, if they are
	rules  []string // the days besides, or all of them
}

// table has a currency a line: its source, then rules as in dayrule. "public XX" stands
// for the public holidays of a place. Where a source says "from memory" it was not read
// again; reference_test.go compares those with two libraries, and says where they part and why.
const table = `
AUD Reserve Bank of Australia, days on which its settlement system RITS is closed; from memory
	m 0101 1.....2; f 0101; m 0126 1.....2; f 0126; e -2; e 1; f 0425; w 06 2 1; f 1225; f 1226
	m 1225 2.....2; m 1226 2.....2
CAD Payments Canada, days on which its settlement system Lynx is closed; from memory
	m 0101 1.....2; f 0101; e -2; a 0518 1; m 0701 1.....2; f 0701; w 09 1 1
	2021- m 0930 1.....2; 2021- f 0930; w 10 2 1; m 1111 1.....2; f 1111; f 1225; f 1226
	m 1225 2.....2; m 1226 2.....2
CHF Swiss National Bank and SIX, days on which the settlement system SIC is closed; from memory
	f 0101; e -2; e 1; e 39; e 50; f 0801; f 1225; f 1226
CZK Act 245/2000 Coll. on public holidays, §§ 1 and 2; Czech National Bank, CERTIS
	public CZ
DKK Finance Denmark, closing days of banks; from memory
	f 0101; e -3; e -2; e 1; -2023 e 26; e 39; e 40; e 50; f 0605; f 1224; f 1225; f 1226; f 1231
EUR European Central Bank, long-term calendar for TARGET closing days, 14 December 2000
	f 0101; e -2; e 1; f 0501; f 1225; f 1226
GBP UK government, bank holidays in England and Wales; Banking and Financial Dealings Act 1971
	public GB-ENG
HKD General Holidays Ordinance (Cap. 149)
	public HK
HUF Labour Code (Act I of 2012) § 102; working days that are moved to a Saturday are not known
	public HU
ISK Act 88/1971 on 40 hours of work a week, article 6
	public IS
JPY Banking Act, Order for Enforcement, article 5: national holidays, 31 December to 3 January
	public JP; f 0102; f 0103; f 1231
NOK Norges Bank, days on which its settlement system NBO is closed, and 24 December; from memory
	f 0101; e -3; e -2; e 1; f 0501; f 0517; e 39; e 50; f 1224; f 1225; f 1226
NZD Holidays Act 2003, the days of the whole country; Reserve Bank of New Zealand, ESAS
	public NZ
PLN Act of 18 January 1951 on days free from work, article 1
	public PL
RON Labour Code (Law 53/2003) article 139
	public RO
SEK Sveriges Riksbank, days on which its settlement system RIX is closed
	f 0101; f 0106; e -2; e 1; f 0501; e 39; f 0606; a 0619 5; f 1224; f 1225; f 1226; f 1231
SGD Holidays Act (Cap. 126)
	public SG
USD Board of Governors of the Federal Reserve System, K.8, Holidays Observed
	m 0101 1000000; w 01 3 1; w 02 3 1; w 05 -1 1; 2022- m 0619 1000000; m 0704 1000000
	w 09 1 1; w 10 2 1; m 1111 1000000; w 11 4 4; m 1225 1000000
ZAR Public Holidays Act 36 of 1994, schedule 1 and section 2
	public ZA
`

// weekends are those that are not Saturday and Sunday, by currency. Common practice of
// the countries, no source.
var weekends = map[string][2]time.Weekday{
	"BHD": {time.Friday, time.Saturday}, "EGP": {time.Friday, time.Saturday},
	"ILS": {time.Friday, time.Saturday}, "JOD": {time.Friday, time.Saturday},
	"KWD": {time.Friday, time.Saturday}, "OMR": {time.Friday, time.Saturday},
	"SAR": {time.Friday, time.Saturday},
}

// calendars reads the table. That it is well formed is a test's to say.
var calendars = sync.OnceValue(func() map[string]Calendar {
	all := map[string]Calendar{}
	currency := ""
	for line := range strings.Lines(strings.TrimSpace(table)) {
		line = strings.TrimSuffix(line, "\n")
		c := all[currency]
		if rules, is := strings.CutPrefix(line, "\t"); is {
			for rule := range strings.SplitSeq(rules, "; ") {
				if place, is := strings.CutPrefix(rule, "public "); is {
					c.public = place
				} else {
					c.rules = append(c.rules, rule)
				}
			}
		} else {
			var source string
			currency, source, _ = strings.Cut(line, " ")
			c = Calendar{Currency: currency, Source: source}
		}
		all[currency] = c
	}
	return all
})

// CalendarOf gives the calendar of a currency's banks; one without a source knows the
// weekend only.
func CalendarOf(currency string) Calendar {
	if c, ok := calendars()[currency]; ok {
		return c
	}
	return Calendar{Currency: currency}
}

// Calendars lists those that are known, by currency.
func Calendars() []Calendar {
	return slices.SortedFunc(maps.Values(calendars()), func(a, b Calendar) int {
		return cmp.Compare(a.Currency, b.Currency)
	})
}

// Public names the place whose public holidays the calendar follows, or "".
func (c Calendar) Public() string { return c.public }

// Rules lists the rules of the other closing days.
func (c Calendar) Rules() []string { return slices.Clone(c.rules) }

// Until is the last year that the calendar is for; 0 is no end: all its days follow a
// rule. One that follows public holidays ends where their table does.
func (c Calendar) Until() int {
	if c.public != "" {
		return holidays.Last
	}
	return 0
}

// Weekend gives the days of the week on which the banks of a currency do not pay.
func Weekend(currency string) [2]time.Weekday {
	if w, ok := weekends[currency]; ok {
		return w
	}
	return [2]time.Weekday{time.Saturday, time.Sunday}
}

// yearOf names the closing days of a currency in a year.
type yearOf struct {
	currency string
	year     int
}

var years dayrule.Memo[yearOf, map[shop.Date]bool]

// closedIn gives the days of a year on which banks do not pay, weekends apart. They are
// worked out once.
func closedIn(currency string, year int) map[shop.Date]bool {
	work := func() map[shop.Date]bool { return CalendarOf(currency).closed(year) }
	return years.Get(yearOf{currency, year}, work)
}

func (c Calendar) closed(year int) map[shop.Date]bool {
	days := map[shop.Date]bool{}
	for _, h := range holidays.Years(c.public, year, year) {
		days[h.Date] = true
	}
	for _, text := range c.rules {
		rule, err := dayrule.Parse(text)
		if err != nil {
			continue
		}
		for y := year - 1; y <= year; y++ { // a day may be kept in the next year, none in the one before
			for _, d := range rule.In(y) {
				days[d] = true
			}
		}
	}
	return days
}
