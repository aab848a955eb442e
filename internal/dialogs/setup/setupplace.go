package setup

import (
	"strings"
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// nearby are the countries offered first.
var nearby = []string{"IE", "GB", "DE", "AT", "FR", "US"}

func countryTopic() ask.Topic {
	return ask.Topic{
		Name: "country", Read: readCountry, Taken: takeCountry,
		Show: func(_ *engine.Talk, v string) string { return countryName(v) },
		Offer: func(*engine.Talk) []ask.Offer {
			var list []ask.Offer
			for _, code := range nearby {
				list = append(list, ask.Offer{Label: countryName(code), Value: code})
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
func readCountry(c *engine.Talk, s string) (value, problem string) {
	if known, ok := shop.CountryOf(s); ok {
		return known.Code, ""
	}
	s = strings.ToUpper(strings.TrimSpace(s))
	if len(s) == 2 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'A' && s[1] <= 'Z' {
		return s, ""
	}
	return "", c.V.Say("country-unknown")
}

func takeCountry(c *engine.Talk) {
	known, _ := shop.CountryOf(c.Chosen("country"))
	c.Forget("zone")
	if len(known.Zones) == 1 {
		c.Choose("zone", known.Zones[0])
	}
	if fixedCurrency(c) {
		return
	}
	c.Forget("currency")
	if known.Currency != "" {
		c.Choose("currency", known.Currency)
		freshCurrency(c)
	}
}

func zoneTopic() ask.Topic {
	return ask.Topic{
		Name: "zone", Read: readZone,
		Given: func(c *engine.Talk) bool {
			known, _ := shop.CountryOf(c.Chosen("country"))
			return len(known.Zones) == 1 && known.Zones[0] == c.Chosen("zone")
		},
		Offer: func(c *engine.Talk) []ask.Offer {
			known, _ := shop.CountryOf(c.Chosen("country"))
			var list []ask.Offer
			for _, z := range known.Zones {
				list = append(list, ask.Offer{Label: zoneCity(z), Value: z})
			}
			return list
		},
	}
}

// zoneCity is the part of a zone's name people know.
func zoneCity(zone string) string {
	return strings.ReplaceAll(zone[strings.LastIndexByte(zone, '/')+1:], "_", " ")
}

func readZone(c *engine.Talk, s string) (value, problem string) {
	s = strings.TrimSpace(s)
	if !strings.Contains(s, "/") || strings.Contains(s, "..") || len(s) > 40 {
		return "", c.V.Say("zone-unknown")
	}
	if _, err := time.LoadLocation(s); err != nil {
		return "", c.V.Say("zone-unknown")
	}
	return s, ""
}

// withoutNotes are codes of ISO 4217 that stand for units of account and funds,
// of which there are no notes (from memory).
const withoutNotes = " BOV CHE CHW CLF COU MXV USN UYI UYW "

func currencyTopic() ask.Topic {
	return ask.Topic{
		Name: "currency", Skip: fixedCurrency, Taken: freshCurrency,
		Given: func(c *engine.Talk) bool {
			known, _ := shop.CountryOf(c.Chosen("country"))
			return known.Currency != "" && known.Currency == c.Chosen("currency")
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			s = strings.ToUpper(strings.TrimSpace(s))
			if _, err := cashmath.LookupCurrency(s); err != nil || strings.Contains(withoutNotes, " "+s+" ") {
				return "", c.V.Say("currency-unknown")
			}
			return s, ""
		},
	}
}

// fixedCurrency: once something is recorded the currency stays; another one is
// another shop.
func fixedCurrency(c *engine.Talk) bool { return !c.F.Shop.Fresh }

// freshCurrency asks again what was said in another currency.
func freshCurrency(c *engine.Talk) { c.Forget("boxes", "capacity", "low", "bundle", "limit") }

func limitTopic() ask.Topic {
	return ask.Topic{
		Name: "limit", Offer: func(c *engine.Talk) []ask.Offer {
			return []ask.Offer{{Label: c.V.Say("option.limit.none"), Value: "0"}}
		},
		Show: func(c *engine.Talk, v string) string {
			if v == "0" {
				return c.V.Say("option.limit.none")
			}
			return draftVoice(c).Money(engine.AmountOf(v))
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			digits := 2
			if cur, err := cashmath.LookupCurrency(c.Chosen("currency")); err == nil {
				digits = int(cur.Digits())
			}
			amount, code := counts.ParseAmount(s, digits)
			if code != counts.OK || !engine.AmountOf(amount).IsPositive() {
				return "", c.V.Say("limit-unread")
			}
			return amount, ""
		},
	}
}
