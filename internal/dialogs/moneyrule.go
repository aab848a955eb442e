package dialogs

import (
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/shop"
)

// noRule: the bank's rule is not asked when a shop is set up, nor where nobody
// knows how many days the bank takes.
func (c *talk) noRule() bool {
	return c.f.Shop.Fresh || c.chosen("credit-days") == "" || c.chosen("credit-days") == "0"
}

// creditCutTopic asks until when the bank counts a day's figures as that day's.
func creditCutTopic() topic {
	return topic{name: "credit-cut", skip: (*talk).noRule,
		offer: func(c *talk) []offer { return c.options("credit-cut", "none") },
		read: func(c *talk, s string) (value, problem string) {
			minutes, rest := timeOfDay(s)
			if minutes <= 0 || rest != "" {
				return "", c.v.Say("credit-cut-form")
			}
			return clockText(minutes), ""
		},
		show: func(c *talk, value string) string {
			if value == "none" {
				return c.v.Say("option.credit-cut.none")
			}
			return value
		}}
}

func cutText(minutes int) string {
	if minutes == 0 {
		return "none"
	}
	return clockText(minutes)
}

func cutOf(s string) int {
	minutes, rest := timeOfDay(s)
	if rest != "" {
		return 0
	}
	return max(minutes, 0)
}

// creditRollTopic asks which of the two readings of so many banking days the
// bank has, by an example that tells them apart.
func creditRollTopic() topic {
	return topic{name: "credit-roll", skip: (*talk).noRule,
		offer: func(c *talk) []offer {
			days, _ := index(c.chosen("credit-days"), maxCreditDays+1)
			start := saturday(c.today())
			due := func(roll bool) string {
				rule := bankdays.Rule{Days: days, Roll: roll}
				return c.v.Say("option.credit-roll.due", "start", c.v.Day(start.Time()),
					"due", c.v.Day(rule.After(c.f.Shop.Currency, start).Time()))
			}
			return []offer{{due(false), "no"}, {due(true), "yes"}}
		},
		show: func(c *talk, value string) string { return c.v.Say("option.credit-roll." + value) }}
}

// saturday is the first one from a date on.
func saturday(d shop.Date) shop.Date {
	return d.Add((int(time.Saturday-d.Weekday()) + 7) % 7)
}
