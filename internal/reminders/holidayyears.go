package reminders

import (
	"time"

	"shopfloat/internal/shop"
)

// Festival is one public holiday of a year: the day itself, or another it is kept on.
type Festival struct {
	Date shop.Date
	Name string
}

// Festivals lists the public holidays of a country, by its ISO 3166-1 code, in
// the years from first to last: what [Holiday] knows, at once. None for a country
// that is not known.
func Festivals(country string, first, last int) []Festival {
	var list []Festival
	for year := first; year <= last; year++ {
		for _, rule := range holidays[country] {
			actual, kept := rule.Calc(year)
			for i, at := range []time.Time{actual, kept} {
				if at.IsZero() || i == 1 && kept.Equal(actual) {
					continue
				}
				list = append(list, Festival{shop.DateOf(at), rule.Name})
			}
		}
	}
	return list
}
