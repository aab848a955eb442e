package when

import "strings"

// Order is which of day and month a country writes first in figures. Where the
// year comes first the month follows, so that is MonthFirst. Days with full
// stops, 24.12., are day first everywhere.
type Order uint8

// The orders.
const (
	OrderUnknown Order = iota
	DayFirst
	MonthFirst
)

// monthFirst are the countries (ISO 3166-1) whose language writes the month
// first: Unicode CLDR 45, format Md of the most likely language of the country.
// testdata/order.tsv has the values, and a test compares.
const monthFirst = " AF AS CN ET GU HU IR JP KP KR LT MH MN MP NP PA PH PR TW UM US VI "

// mixed are countries where people write both: CLDR has a language of the country
// for each, or only a form for the year first which is one of several in use.
const mixed = " BI CA LK NE SO ZA "

// OrderOf gives the order of a country by its two letters, in capitals. No
// country at all, and one where people write both, is OrderUnknown.
func OrderOf(country string) Order {
	if len(country) != 2 || strings.Contains(mixed, " "+country+" ") {
		return OrderUnknown
	}
	if strings.Contains(monthFirst, " "+country+" ") {
		return MonthFirst
	}
	return DayFirst
}

const monthsInYear, daysInMonth = 12, 31

// dayMonth tells day and month of two figures apart.
func (o Order) dayMonth(a, b int, sep string) (day, month int, why Reason) {
	dayFirst, monthFirst := fits(a, b), sep != "." && fits(b, a)
	if !dayFirst && !monthFirst {
		return 0, 0, Impossible
	}
	if dayFirst && monthFirst && a != b && o == OrderUnknown {
		return 0, 0, Ambiguous
	}
	if monthFirst && (o == MonthFirst || !dayFirst) {
		return b, a, OK
	}
	return a, b, OK
}

func fits(day, month int) bool {
	return day >= 1 && day <= daysInMonth && month >= 1 && month <= monthsInYear
}
