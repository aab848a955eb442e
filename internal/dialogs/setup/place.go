package setup

import (
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// nearby are the countries offered first.
var nearby = []string{"IE", "GB", "DE", "AT", "FR", "US"}

func countryTopic() topic[string] {
	return topic[string]{
		Name: "country", In: func(d *shopDraft) **string { return &d.Country },
		Read: readCountry, Taken: takeCountry,
		Show: func(_ *engine.Talk, code string) string { return countryName(code) },
		Offer: func(*engine.Talk) (list []ask.Offer[string]) {
			for _, code := range nearby {
				list = append(list, ask.Offer[string]{Label: countryName(code), Value: code})
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

// country is the one in the draft, as far as the table knows it.
func country(c *engine.Talk) shop.Country {
	known, _ := shop.CountryOf(said(draft(c).Country))
	return known
}

func takeCountry(c *engine.Talk) {
	d, known := draft(c), country(c)
	if d.Zone = nil; len(known.Zones) == 1 {
		d.Zone = &known.Zones[0]
	}
	if fixedCurrency(c) {
		return
	}
	if d.Currency = nil; known.Currency != "" {
		d.Currency = &known.Currency
		freshCurrency(c)
	}
}

func zoneTopic() topic[string] {
	return topic[string]{
		Name: "zone", In: func(d *shopDraft) **string { return &d.Zone }, Read: readZone, Show: ask.AsTyped,
		Given: func(c *engine.Talk) bool {
			zones := country(c).Zones
			return len(zones) == 1 && zones[0] == said(draft(c).Zone)
		},
		Offer: func(c *engine.Talk) (list []ask.Offer[string]) {
			for _, z := range country(c).Zones {
				list = append(list, ask.Offer[string]{Label: zoneCity(z), Value: z})
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

func currencyTopic() topic[string] {
	return topic[string]{
		Name: "currency", In: func(d *shopDraft) **string { return &d.Currency }, Show: ask.AsTyped,
		Skip: fixedCurrency, Taken: freshCurrency,
		Given: func(c *engine.Talk) bool {
			usual := country(c).Currency
			return usual != "" && usual == said(draft(c).Currency)
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
func freshCurrency(c *engine.Talk) {
	d := draft(c)
	d.Boxes, d.Capacity, d.Low, d.Bundle, d.Limit = nil, nil, nil, nil, nil
}

func limitTopic() topic[decimal.Decimal] {
	return topic[decimal.Decimal]{
		Name: "limit", In: func(d *shopDraft) **decimal.Decimal { return &d.Limit },
		Offer: func(c *engine.Talk) []ask.Offer[decimal.Decimal] {
			return []ask.Offer[decimal.Decimal]{{Label: c.V.Say("option.limit.none")}}
		},
		Show: func(c *engine.Talk, limit decimal.Decimal) string {
			if limit.IsZero() {
				return c.V.Say("option.limit.none")
			}
			return draftVoice(c).Money(limit)
		},
		Read: func(c *engine.Talk, s string) (limit decimal.Decimal, problem string) {
			digits := 2
			if cur, err := cashmath.LookupCurrency(said(draft(c).Currency)); err == nil {
				digits = int(cur.Digits())
			}
			amount, code := counts.ParseAmount(s, digits)
			if limit = engine.AmountOf(amount); code != counts.OK || !limit.IsPositive() {
				problem = c.V.Say("limit-unread")
			}
			return limit, problem
		},
	}
}
