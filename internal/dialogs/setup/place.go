package setup

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/founding"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// nearby are the countries offered first.
var nearby = []string{"IE", "GB", "DE", "AT", "FR", "US"}

func countryTopic() topic[string] {
	return topic[string]{
		Name: "country", On: "shop", In: func(d *shopDraft) **string { return &d.Country },
		Read: read((*shopDraft).ReadCountry), Doubt: doubt((*shopDraft).DoubtCountry), Taken: takeCountry,
		Show: func(_ *engine.Talk, code string) string { return founding.CountryName(code) },
		Offer: func(*engine.Talk) (list []ask.Offer[string]) {
			for _, code := range nearby {
				list = append(list, ask.Offer[string]{Label: founding.CountryName(code), Value: code})
			}
			return list
		},
	}
}

// country is the one in the draft, as far as the table knows it.
func country(c *engine.Talk) shop.Country {
	known, _ := shop.CountryOf(said(draft(c).Country))
	return known
}

func takeCountry(c *engine.Talk) {
	d, known := draft(c), country(c)
	d.TakePart()
	if little := d.LittleKnown(c.Teller); little != "" {
		c.First(little)
	}
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

// regionsFirst is how many parts of a country stand before the button for none of them, on the first page.
const regionsFirst = 5

// regionTopic asks for the part of a country whose holidays are not those of the others.
func regionTopic() topic[string] {
	regions := func(c *engine.Talk) []holidays.Region { return holidays.Regions(said(draft(c).Country)) }
	return topic[string]{
		Name: "region", On: "shop", In: func(d *shopDraft) **string { return &d.Region },
		Paged: true,
		Skip:  func(c *engine.Talk) bool { return !holidays.Differ(said(draft(c).Country)) },
		Show: func(c *engine.Talk, code string) string {
			if r, ok := holidays.RegionOf(said(draft(c).Country), code); ok {
				return r.Name
			}
			return c.V.Say("option.region.none")
		},
		Offer: func(c *engine.Talk) (list []ask.Offer[string]) {
			for _, r := range regions(c) {
				list = append(list, ask.Offer[string]{Label: r.Name, Value: r.Code})
			}
			return slices.Insert(list, min(len(list), regionsFirst),
				ask.Offer[string]{Label: c.V.Say("option.region.none")})
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			if r, ok := holidays.RegionOf(said(draft(c).Country), strings.TrimSpace(s)); ok {
				return r.Code, ""
			}
			return "", c.V.Say("region-unknown")
		},
	}
}

func zoneTopic() topic[string] {
	return topic[string]{
		Name: "zone", On: "shop", In: func(d *shopDraft) **string { return &d.Zone },
		Read: told(founding.Zone), Show: ask.AsTyped,
		Given: func(c *engine.Talk) bool {
			zones := country(c).Zones
			return len(zones) == 1 && zones[0] == said(draft(c).Zone)
		},
		Offer: func(c *engine.Talk) (list []ask.Offer[string]) {
			for _, z := range country(c).Zones {
				list = append(list, ask.Offer[string]{Label: founding.ZoneCity(z), Value: z})
			}
			return list
		},
	}
}

// withoutNotes are codes of ISO 4217 that stand for units of account and funds,
// of which there are no notes (from memory).
const withoutNotes = " BOV CHE CHW CLF COU MXV USN UYI UYW "

func currencyTopic() topic[string] {
	return topic[string]{
		Name: "currency", On: "shop", In: func(d *shopDraft) **string { return &d.Currency }, Show: ask.AsTyped,
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

// fixedCurrency: once something is recorded the currency stays; another one is another shop.
func fixedCurrency(c *engine.Talk) bool { return !c.F.Shop.Fresh }

// freshCurrency asks again what was said in another currency.
func freshCurrency(c *engine.Talk) {
	d := draft(c)
	d.Boxes, d.Capacity, d.Low, d.Bundle, d.Limit = nil, nil, nil, nil, nil
	if !bankdays.Known(said(d.Currency)) {
		c.First(c.V.Say("bank-days-unknown", "currency", said(d.Currency)))
	}
}

func limitTopic() topic[decimal.Decimal] {
	return topic[decimal.Decimal]{
		Name: "limit", On: "rules", In: func(d *shopDraft) **decimal.Decimal { return &d.Limit },
		Offer: func(c *engine.Talk) []ask.Offer[decimal.Decimal] {
			return []ask.Offer[decimal.Decimal]{{Label: c.V.Say("option.limit.none")}}
		},
		Show: func(c *engine.Talk, limit decimal.Decimal) string {
			if limit.IsZero() {
				return c.V.Say("option.limit.none")
			}
			return draftVoice(c).Money(limit)
		},
		Read: read((*shopDraft).ReadLimit),
	}
}

func hoursTopic() topic[[7]shop.Hours] {
	return topic[[7]shop.Hours]{
		Name: "hours", On: "rules", In: func(d *shopDraft) **[7]shop.Hours { return &d.Hours },
		Show: func(c *engine.Talk, week [7]shop.Hours) string {
			return founding.Hours(c.Teller, week) + draft(c).ShutOn(c.Teller)
		},
		Offer: func(c *engine.Talk) (list []ask.Offer[[7]shop.Hours]) {
			for _, h := range []shop.Hours{
				{Open: 7 * 60, Close: 21 * 60}, {Open: 8 * 60, Close: 20 * 60}, {Open: 9 * 60, Close: 18 * 60},
			} {
				list = append(list, ask.Offer[[7]shop.Hours]{Label: c.V.Say("every-day", "hours", telling.Span(h)),
					Value: [7]shop.Hours{h, h, h, h, h, h, h}})
			}
			h := shop.Hours{Close: shop.DayMinutes}
			return append(list, ask.Offer[[7]shop.Hours]{Label: c.V.Say("open-always"),
				Value: [7]shop.Hours{h, h, h, h, h, h, h}})
		},
		Doubt: func(c *engine.Talk, week [7]shop.Hours) string {
			if draft(c).Likely == week {
				return c.V.Say("hours-likely", "hours", founding.Hours(c.Teller, week))
			}
			for _, h := range week {
				if h.Close <= h.Open && h != (shop.Hours{}) {
					return c.V.Say("hours-doubt", "hours", telling.Span(h))
				}
			}
			return ""
		},
		Read: read((*shopDraft).ReadHours),
	}
}

// maxCreditDays bounds the working days until the bank credits.
const maxCreditDays = 30

func creditDaysTopic() topic[int] {
	t := oneOf("credit-days", "bank", func(d *shopDraft) **int { return &d.CreditDays }, 1, 2, 3, 0)
	t.Read = func(c *engine.Talk, s string) (value int, problem string) {
		value, ok := chat.Index(founding.BankDays(c.Teller, s), maxCreditDays+1)
		if !ok {
			problem = c.V.Say("credit-days-range", "max", maxCreditDays)
		}
		return value, problem
	}
	return t
}

// noRule: the bank's rule is not asked when a shop is set up, nor where nobody
// knows how many days the bank takes.
func noRule(c *engine.Talk) bool { return c.F.Shop.Fresh || said(draft(c).CreditDays) == 0 }

// bankLookTopic asks how often somebody looks at the bank, which is how often late money is spoken of.
func bankLookTopic() topic[string] {
	t := oneOf("bank-look", "bank", func(d *shopDraft) **string { return &d.BankLook },
		shop.LooksDaily, shop.LooksWeekly, shop.LooksByStatement)
	t.Skip = noRule
	return t
}

// creditCutTopic asks until when the bank counts a day's figures as that day's.
func creditCutTopic() topic[int] {
	show := func(c *engine.Talk, minutes int) string {
		if minutes == 0 {
			return c.V.Say("option.credit-cut.none")
		}
		return telling.ClockText(minutes)
	}
	return topic[int]{
		Name: "credit-cut", On: "bank", In: func(d *shopDraft) **int { return &d.CreditCut }, Skip: noRule,
		Show:  show,
		Offer: func(c *engine.Talk) []ask.Offer[int] { return []ask.Offer[int]{{Label: show(c, 0)}} },
		Read: func(c *engine.Talk, s string) (minutes int, problem string) {
			minutes, rest := telling.TimeOfDay(s)
			if minutes <= 0 || rest != "" {
				problem = c.V.Say("credit-cut-form")
			}
			return minutes, problem
		},
	}
}

// feeTopic asks for the shop's own income for each payout; not when a shop is set up.
func feeTopic() topic[shop.Fee] {
	return topic[shop.Fee]{Name: "fee", On: "bank", In: func(d *shopDraft) **shop.Fee { return &d.Fee },
		Skip: func(c *engine.Talk) bool { return c.F.Shop.Fresh },
		Read: told(founding.Fee), Show: shown(founding.FeeInWords),
		Offer: func(c *engine.Talk) []ask.Offer[shop.Fee] {
			return []ask.Offer[shop.Fee]{{Label: c.V.Say("option.fee.none")}}
		}}
}

// creditRollTopic asks which of the two readings of so many banking days the
// bank has, by an example that tells them apart.
func creditRollTopic() topic[bool] {
	t := oneOf("credit-roll", "bank", func(d *shopDraft) **bool { return &d.CreditRoll }, false, true)
	t.Skip = noRule
	t.Offer = func(c *engine.Talk) (list []ask.Offer[bool]) {
		start := founding.Saturday(c.Today())
		for _, roll := range []bool{false, true} {
			rule := bankdays.Rule{Days: said(draft(c).CreditDays), Roll: roll}
			list = append(list, ask.Offer[bool]{Value: roll, Label: c.V.Say("option.credit-roll.due",
				"start", c.V.Day(start.Time()), "due", c.V.Day(rule.After(c.F.Shop.Currency, start).Time()))})
		}
		return list
	}
	return t
}
