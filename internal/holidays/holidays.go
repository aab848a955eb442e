// Package holidays knows the public holidays of the countries a shop may stand
// in, from the calendars of github.com/rickar/cal.
package holidays

import (
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/at"
	"github.com/rickar/cal/v2/be"
	"github.com/rickar/cal/v2/bg"
	"github.com/rickar/cal/v2/ca"
	"github.com/rickar/cal/v2/ch"
	"github.com/rickar/cal/v2/cz"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/dk"
	"github.com/rickar/cal/v2/es"
	"github.com/rickar/cal/v2/fr"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/gr"
	"github.com/rickar/cal/v2/hr"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/it"
	"github.com/rickar/cal/v2/jp"
	"github.com/rickar/cal/v2/lt"
	"github.com/rickar/cal/v2/lv"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/no"
	"github.com/rickar/cal/v2/nz"
	"github.com/rickar/cal/v2/pl"
	"github.com/rickar/cal/v2/ro"
	"github.com/rickar/cal/v2/se"
	"github.com/rickar/cal/v2/si"
	"github.com/rickar/cal/v2/sk"
	"github.com/rickar/cal/v2/us"
	"github.com/rickar/cal/v2/za"

	"shopfloat/internal/shop"
)

// calendars are the rules by ISO 3166-1 code. GB is England and Wales.
// One-off holidays are for the owner to tell.
var calendars = map[string][]*cal.Holiday{
	"AT": at.Holidays, "BE": be.Holidays, "BG": bg.Holidays, "CA": ca.Holidays, "CH": ch.Holidays,
	"CZ": cz.Holidays, "DE": de.Holidays, "DK": dk.Holidays, "ES": es.Holidays, "FR": fr.Holidays,
	"GB": gb.Holidays, "GR": gr.Holidays, "HR": hr.Holidays, "IE": ie.Holidays, "IT": it.Holidays,
	"JP": jp.Holidays, "LT": lt.Holidays, "LV": lv.Holidays, "NL": nl.Holidays, "NO": no.Holidays,
	"NZ": nz.Holidays, "PL": pl.Holidays, "RO": ro.Holidays, "SE": se.Holidays, "SI": si.Holidays,
	"SK": sk.Holidays, "US": sundaysOnly(us.Holidays), "ZA": za.Holidays,
}

// sundaysOnly mends a calendar that moves a holiday from Saturday to Friday:
// only the one on a Sunday moves, to the Monday (Board of Governors of the
// Federal Reserve System, K.8, Holidays Observed 2026-2030, footnote on
// holidays that fall on Saturday and on Sunday).
func sundaysOnly(list []*cal.Holiday) []*cal.Holiday {
	mended := make([]*cal.Holiday, 0, len(list))
	for _, h := range list {
		if h.Observed != nil {
			h = h.Clone(&cal.Holiday{Observed: []cal.AltDay{{Day: time.Sunday, Offset: 1}}})
		}
		mended = append(mended, h)
	}
	return mended
}

// On names the public holiday of a country, by its ISO 3166-1 code, that
// a date is or is kept on; empty for none and for a country that is not known.
func On(country string, date shop.Date) string {
	// Cacheable stays off: the cache is not made for several goroutines.
	c := cal.Calendar{Holidays: calendars[country]}
	if is, kept, h := c.IsHoliday(date.Time()); is || kept {
		return h.Name
	}
	return ""
}

// Known reports whether a country's public holidays are known.
func Known(country string) bool { return calendars[country] != nil }
