package holidays

import (
	"cmp"
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// Holiday is one public holiday of a year: the day itself, or another it is kept on.
type Holiday struct {
	Date shop.Date
	Name string
}

// Years lists the public holidays of a country, by its ISO 3166-1 code, in
// the years from first to last: what [On] knows, at once, by date. None for a country
// that is not known.
func Years(country string, first, last int) []Holiday {
	var list []Holiday
	for year := first; year <= last; year++ {
		for _, rule := range calendars[country] {
			actual, kept := rule.Calc(year) // both zero in a year that has no such day
			for _, at := range slices.CompactFunc([]time.Time{actual, kept}, time.Time.Equal) {
				if !at.IsZero() {
					list = append(list, Holiday{shop.DateOf(at), rule.Name})
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Holiday) int { return cmp.Compare(a.Date, b.Date) })
	return list
}
