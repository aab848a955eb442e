// Package holidays knows the public holidays of the countries and regions a shop may
// stand in, from a table that gen/table.mjs writes. It says until when it knows them.
package holidays

import (
	"cmp"
	_ "embed"
	"slices"
	"strings"

	"shopfloat/internal/dayrule"
	"shopfloat/internal/shop"
)

//go:embed table.txt
var table string

// The years that the table is for. After them nothing is known; before them there are the
// days that followed a rule in the first of them, and what the table has beside.
const (
	First = 2020
	Last  = 2045
)

// Sure says how sure it is that shops are closed on a day.
type Sure string

// Degrees of it.
const (
	Kept Sure = ""  // by law
	Moon Sure = "~" // by law, but the moon decides: it may be a day earlier or later
	Some Sure = "?" // by some: banks or schools, half the day, or only in other regions
)

// Holiday is one public holiday of a year: the day itself, or another it is kept on.
type Holiday struct {
	Date shop.Date
	Name string
	Sure Sure
}

// Region is a part of a country that keeps days of its own.
type Region struct {
	Code string // what follows the country in ISO 3166-2, or a part of it
	Name string // in English
}

// Place names a region of a country, "GB-SCT", or the country alone.
func Place(country, region string) string {
	if region == "" {
		return country
	}
	return country + "-" + region
}

// On names the public holiday that a date is, or is kept on, in a place: a country by
// its ISO 3166-1 code, or a region of it, "GB-SCT". Empty for none and where nothing
// is known. Days that only some keep are none: see [Doubtful].
func On(place string, date shop.Date) string {
	if h := At(place, date); h.Sure != Some {
		return h.Name
	}
	return ""
}

// Doubtful names what a date is in a place when it is not sure whether shops are closed
// then: by the moon, by some only, or in other regions where no region is laid down. Where
// nothing is known those that are kept nearly everywhere are doubtful.
func Doubtful(place string, date shop.Date) string {
	if h := At(place, date); h.Sure != Kept {
		return h.Name
	}
	return ""
}

// Years lists the public holidays of a place in the years from first to last: what
// [On] knows, at once, by date, a day once.
func Years(place string, first, last int) []Holiday {
	var list []Holiday
	for year := first; year <= last; year++ {
		for _, h := range yearOf(place, year) {
			if h.Sure != Some {
				list = append(list, h)
			}
		}
	}
	slices.SortFunc(list, func(a, b Holiday) int { return cmp.Compare(a.Date, b.Date) })
	return list
}

// Known reports whether the public holidays of a place are known: of its country, and
// of the region, if one is named.
func Known(place string) bool {
	country, region, _ := strings.Cut(place, "-")
	if _, ok := sections()[country]; !ok {
		return false
	}
	return region == "" || slices.ContainsFunc(Regions(country), func(r Region) bool { return r.Code == region })
}

// Regions lists the regions of a country that are known, by name. One of a single
// region has none to choose.
func Regions(country string) []Region { return sections()[country].regions }

// Differ reports whether regions of a country keep days by law that others do not.
func Differ(country string) bool {
	return slices.ContainsFunc(sections()[country].lines, func(l line) bool {
		return l.where != "*" && l.sure != Some
	})
}

// placeYear names a year in a place.
type placeYear struct {
	place string
	year  int
}

var years dayrule.Memo[placeYear, map[shop.Date]Holiday]

// yearOf works a year in a place out once.
func yearOf(place string, year int) map[shop.Date]Holiday {
	if year > Last || !Known(place) {
		return nil
	}
	return years.Get(placeYear{place, year}, func() map[shop.Date]Holiday { return reckon(place, year) })
}

// At gives what is known of a date in a place; a zero value for a day like others.
func At(place string, date shop.Date) Holiday {
	year := date.Time().Year()
	if year <= Last && Known(place) {
		return yearOf(place, year)[date]
	}
	for _, h := range nearlyEverywhere {
		if strings.HasSuffix(string(date), string(h.Date)) {
			return Holiday{date, h.Name, Some}
		}
	}
	return Holiday{}
}

// nearlyEverywhere are days on which shops are closed in so many countries that it is
// worth asking where nothing is known. Common practice, no source.
var nearlyEverywhere = []Holiday{
	{Date: "01-01", Name: "New Year's Day"}, {Date: "12-25", Name: "Christmas Day"},
}
