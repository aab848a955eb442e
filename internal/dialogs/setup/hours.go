package setup

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

func hoursTopic() topic[[7]shop.Hours] {
	return topic[[7]shop.Hours]{
		Name: "hours", In: func(d *shopDraft) **[7]shop.Hours { return &d.Hours }, Show: showHours,
		Offer: func(c *engine.Talk) (list []ask.Offer[[7]shop.Hours]) {
			for _, h := range []shop.Hours{
				{Open: 7 * 60, Close: 21 * 60}, {Open: 8 * 60, Close: 20 * 60}, {Open: 9 * 60, Close: 18 * 60},
			} {
				list = append(list, ask.Offer[[7]shop.Hours]{Label: c.V.Say("every-day", "hours", span(h)),
					Value: [7]shop.Hours{h, h, h, h, h, h, h}})
			}
			return list
		},
		Doubt: func(c *engine.Talk, week [7]shop.Hours) string {
			for _, h := range week {
				if h.Close <= h.Open && h != (shop.Hours{}) {
					return c.V.Say("hours-doubt", "hours", span(h))
				}
			}
			return ""
		},
		Read: func(c *engine.Talk, s string) (week [7]shop.Hours, problem string) {
			week, why := ask.Reader(c).Week(s)
			if why != when.OK || week == ([7]shop.Hours{}) {
				problem = c.V.Say("hours-unread")
			}
			return week, problem
		},
	}
}

// span writes trading hours: 07:00-21:00.
func span(h shop.Hours) string { return ask.ClockText(h.Open) + "-" + ask.ClockText(h.Close) }

// showHours writes a week, days that are alike together, Monday first.
func showHours(c *engine.Talk, week [7]shop.Hours) string {
	var out []string
	for i := 1; i <= 7; {
		last := i
		for last < 7 && week[(last+1)%7] == week[i%7] {
			last++
		}
		days := c.V.Say("weekday." + strconv.Itoa(i%7))
		if last > i {
			days += "-" + c.V.Say("weekday."+strconv.Itoa(last%7))
		}
		what := c.V.Say("closed-day")
		if h := week[i%7]; h != (shop.Hours{}) {
			what = span(h)
		}
		out = append(out, days+" "+what)
		i = last + 1
	}
	return strings.Join(out, ", ")
}

// maxCreditDays bounds the working days until the bank credits.
const maxCreditDays = 30

func creditDaysTopic() topic[int] {
	t := oneOf("credit-days", func(d *shopDraft) **int { return &d.CreditDays }, 1, 2, 3, 0)
	t.Read = func(c *engine.Talk, s string) (value int, problem string) {
		value, ok := ask.Index(strings.TrimSpace(s), maxCreditDays+1)
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

// creditCutTopic asks until when the bank counts a day's figures as that day's.
func creditCutTopic() topic[int] {
	show := func(c *engine.Talk, minutes int) string {
		if minutes == 0 {
			return c.V.Say("option.credit-cut.none")
		}
		return ask.ClockText(minutes)
	}
	return topic[int]{
		Name: "credit-cut", In: func(d *shopDraft) **int { return &d.CreditCut }, Skip: noRule, Show: show,
		Offer: func(c *engine.Talk) []ask.Offer[int] { return []ask.Offer[int]{{Label: show(c, 0)}} },
		Read: func(c *engine.Talk, s string) (minutes int, problem string) {
			minutes, rest := ask.TimeOfDay(s)
			if minutes <= 0 || rest != "" {
				problem = c.V.Say("credit-cut-form")
			}
			return minutes, problem
		},
	}
}

// creditRollTopic asks which of the two readings of so many banking days the
// bank has, by an example that tells them apart.
func creditRollTopic() topic[bool] {
	t := oneOf("credit-roll", func(d *shopDraft) **bool { return &d.CreditRoll }, false, true)
	t.Skip = noRule
	t.Offer = func(c *engine.Talk) (list []ask.Offer[bool]) {
		start := saturday(c.Today())
		for _, roll := range []bool{false, true} {
			rule := bankdays.Rule{Days: said(draft(c).CreditDays), Roll: roll}
			list = append(list, ask.Offer[bool]{Value: roll, Label: c.V.Say("option.credit-roll.due",
				"start", c.V.Day(start.Time()), "due", c.V.Day(rule.After(c.F.Shop.Currency, start).Time()))})
		}
		return list
	}
	return t
}

// saturday is the first one from a date on.
func saturday(d shop.Date) shop.Date {
	return d.Add((int(time.Saturday-d.Weekday()) + 7) % 7)
}
