package setup

import (
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// noRule: the bank's rule is not asked when a shop is set up, nor where nobody
// knows how many days the bank takes.
func noRule(c *engine.Talk) bool {
	return c.F.Shop.Fresh || c.Chosen("credit-days") == "" || c.Chosen("credit-days") == "0"
}

// creditCutTopic asks until when the bank counts a day's figures as that day's.
func creditCutTopic() ask.Topic {
	return ask.Topic{Name: "credit-cut", Skip: noRule,
		Offer: func(c *engine.Talk) []ask.Offer { return options(c, "credit-cut", "none") },
		Read: func(c *engine.Talk, s string) (value, problem string) {
			minutes, rest := ask.TimeOfDay(s)
			if minutes <= 0 || rest != "" {
				return "", c.V.Say("credit-cut-form")
			}
			return ask.ClockText(minutes), ""
		},
		Show: func(c *engine.Talk, value string) string {
			if value == "none" {
				return c.V.Say("option.credit-cut.none")
			}
			return value
		}}
}

func cutText(minutes int) string {
	if minutes == 0 {
		return "none"
	}
	return ask.ClockText(minutes)
}

func cutOf(s string) int {
	minutes, rest := ask.TimeOfDay(s)
	if rest != "" {
		return 0
	}
	return max(minutes, 0)
}

// creditRollTopic asks which of the two readings of so many banking days the
// bank has, by an example that tells them apart.
func creditRollTopic() ask.Topic {
	return ask.Topic{Name: "credit-roll", Skip: noRule,
		Offer: func(c *engine.Talk) []ask.Offer {
			days, _ := ask.Index(c.Chosen("credit-days"), maxCreditDays+1)
			start := saturday(c.Today())
			due := func(roll bool) string {
				rule := bankdays.Rule{Days: days, Roll: roll}
				return c.V.Say("option.credit-roll.due", "start", c.V.Day(start.Time()),
					"due", c.V.Day(rule.After(c.F.Shop.Currency, start).Time()))
			}
			return []ask.Offer{{Label: due(false), Value: "no"}, {Label: due(true), Value: "yes"}}
		},
		Show: func(c *engine.Talk, value string) string { return c.V.Say("option.credit-roll." + value) }}
}

// saturday is the first one from a date on.
func saturday(d shop.Date) shop.Date {
	return d.Add((int(time.Saturday-d.Weekday()) + 7) % 7)
}
