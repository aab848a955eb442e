package dialogs

import (
	"strings"
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/shop"
)

// nearby are the countries offered first.
var nearby = []string{"IE", "GB", "DE", "AT", "FR", "US"}

func countryTopic() topic {
	return topic{
		name: "country", read: readCountry, taken: takeCountry,
		show: func(_ *talk, v string) string { return countryName(v) },
		offer: func(*talk) []offer {
			var list []offer
			for _, code := range nearby {
				list = append(list, offer{countryName(code), code})
			}
			return list
		},
	}
}

func countryName(code string) string {
	if c, ok := shop.CountryOf(code); ok {
		return c.Name
	}
	return code
}

// readCountry takes a name or the two letters of ISO 3166. Of a country that is
// not in the table zone and currency are asked.
func readCountry(c *talk, s string) (value, problem string) {
	if known, ok := shop.CountryOf(s); ok {
		return known.Code, ""
	}
	s = strings.ToUpper(strings.TrimSpace(s))
	if len(s) == 2 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'A' && s[1] <= 'Z' {
		return s, ""
	}
	return "", c.v.Say("country-unknown")
}

func takeCountry(c *talk) {
	known, _ := shop.CountryOf(c.chosen("country"))
	c.forget("zone")
	if len(known.Zones) == 1 {
		c.choose("zone", known.Zones[0])
	}
	if c.fixedCurrency() {
		return
	}
	c.forget("currency")
	if known.Currency != "" {
		c.choose("currency", known.Currency)
		c.freshCurrency()
	}
}

func zoneTopic() topic {
	return topic{
		name: "zone", read: readZone,
		given: func(c *talk) bool {
			known, _ := shop.CountryOf(c.chosen("country"))
			return len(known.Zones) == 1 && known.Zones[0] == c.chosen("zone")
		},
		offer: func(c *talk) []offer {
			known, _ := shop.CountryOf(c.chosen("country"))
			var list []offer
			for _, z := range known.Zones {
				list = append(list, offer{zoneCity(z), z})
			}
			return list
		},
	}
}

// zoneCity is the part of a zone's name people know.
func zoneCity(zone string) string {
	return strings.ReplaceAll(zone[strings.LastIndexByte(zone, '/')+1:], "_", " ")
}

func readZone(c *talk, s string) (value, problem string) {
	s = strings.TrimSpace(s)
	if !strings.Contains(s, "/") || strings.Contains(s, "..") || len(s) > 40 {
		return "", c.v.Say("zone-unknown")
	}
	if _, err := time.LoadLocation(s); err != nil {
		return "", c.v.Say("zone-unknown")
	}
	return s, ""
}

// withoutNotes are codes of ISO 4217 that stand for units of account and funds,
// of which there are no notes (from memory).
const withoutNotes = " BOV CHE CHW CLF COU MXV USN UYI UYW "

func currencyTopic() topic {
	return topic{
		name: "currency", skip: (*talk).fixedCurrency, taken: (*talk).freshCurrency,
		given: func(c *talk) bool {
			known, _ := shop.CountryOf(c.chosen("country"))
			return known.Currency != "" && known.Currency == c.chosen("currency")
		},
		read: func(c *talk, s string) (value, problem string) {
			s = strings.ToUpper(strings.TrimSpace(s))
			if _, err := cashmath.LookupCurrency(s); err != nil || strings.Contains(withoutNotes, " "+s+" ") {
				return "", c.v.Say("currency-unknown")
			}
			return s, ""
		},
	}
}

// fixedCurrency: once something is recorded the currency stays; another one is
// another shop.
func (c *talk) fixedCurrency() bool { return !c.f.Shop.Fresh }

// freshCurrency asks again what was said in another currency.
func (c *talk) freshCurrency() { c.forget("boxes", "capacity", "low", "bundle", "limit") }

func limitTopic() topic {
	return topic{
		name: "limit", offer: func(c *talk) []offer { return []offer{{c.v.Say("option.limit.none"), "0"}} },
		show: func(c *talk, v string) string {
			if v == "0" {
				return c.v.Say("option.limit.none")
			}
			return c.draftVoice().Money(amountOf(v))
		},
		read: func(c *talk, s string) (value, problem string) {
			digits := 2
			if cur, err := cashmath.LookupCurrency(c.chosen("currency")); err == nil {
				digits = int(cur.Digits())
			}
			amount, code := counts.ParseAmount(s, digits)
			if code != counts.OK || !amountOf(amount).IsPositive() {
				return "", c.v.Say("limit-unread")
			}
			return amount, ""
		},
	}
}
