// Package holidays lists the public holidays of the countries the shop may
// stand in, from the calendars of github.com/rickar/cal.
package holidays

import (
	"fmt"
	"sort"
	"strings"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/at"
	"github.com/rickar/cal/v2/be"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/es"
	"github.com/rickar/cal/v2/fr"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/it"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/us"

	"shopfloat/internal/demand"
)

// Of lists the public holidays of a country, named by its ISO 3166 code of two
// letters, from the first to the last year, both included, by date. GB means
// England and Wales. A country that is not known is an error.
func Of(country string, firstYear, lastYear int) ([]demand.Holiday, error) {
	rules, ok := table(strings.ToUpper(country))
	if !ok {
		return nil, fmt.Errorf("no public holidays known for country %q", country)
	}
	var list []demand.Holiday
	for year := firstYear; year <= lastYear; year++ {
		for _, rule := range rules {
			actual, observed := rule.Calc(year)
			if actual.IsZero() {
				continue
			}
			list = append(list, demand.Holiday{Day: demand.DayOf(actual.Date()), Name: rule.Name})
			if !observed.IsZero() && !observed.Equal(actual) {
				list = append(list, demand.Holiday{Day: demand.DayOf(observed.Date()), Name: rule.Name})
			}
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].Day < list[j].Day })
	return list, nil
}

func table(country string) ([]*cal.Holiday, bool) {
	switch country {
	case "AT":
		return at.Holidays, true
	case "BE":
		return be.Holidays, true
	case "DE":
		return de.Holidays, true
	case "ES":
		return es.Holidays, true
	case "FR":
		return fr.Holidays, true
	case "GB":
		return gb.Holidays, true
	case "IE":
		return ie.Holidays, true
	case "IT":
		return it.Holidays, true
	case "NL":
		return nl.Holidays, true
	case "US":
		return us.Holidays, true
	}
	return nil, false
}
