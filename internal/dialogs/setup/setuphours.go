package setup

import (
	"fmt"
	"strconv"
	"strings"

	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

func hoursTopic() ask.Topic {
	return ask.Topic{
		Name: "hours",
		Offer: func(c *engine.Talk) []ask.Offer {
			var list []ask.Offer
			for _, h := range []shop.Hours{
				{Open: 7 * 60, Close: 21 * 60}, {Open: 8 * 60, Close: 20 * 60}, {Open: 9 * 60, Close: 18 * 60},
			} {
				var week [7]shop.Hours
				for d := range week {
					week[d] = h
				}
				list = append(list, ask.Offer{Label: c.V.Say("every-day", "hours", span(h)), Value: hoursText(week)})
			}
			return list
		},
		Show: func(c *engine.Talk, v string) string { return showHours(c, hoursOf(v)) },
		Doubt: func(c *engine.Talk, v string) string {
			for _, h := range hoursOf(v) {
				if h.Close <= h.Open && h != (shop.Hours{}) {
					return c.V.Say("hours-doubt", "hours", span(h))
				}
			}
			return ""
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			week, why := ask.Reader(c).Week(s)
			if why != when.OK || week == ([7]shop.Hours{}) {
				return "", c.V.Say("hours-unread")
			}
			return hoursText(week), ""
		},
	}
}

// span writes trading hours: 07:00-21:00.
func span(h shop.Hours) string {
	return fmt.Sprintf("%02d:%02d-%02d:%02d", h.Open/60, h.Open%60, h.Close/60, h.Close%60)
}

// hoursText keeps a week in the draft: minutes, Sunday first, "-" is closed.
func hoursText(week [7]shop.Hours) string {
	parts := make([]string, 7)
	for d, h := range week {
		if parts[d] = "-"; h != (shop.Hours{}) {
			parts[d] = strconv.Itoa(h.Open) + "-" + strconv.Itoa(h.Close)
		}
	}
	return strings.Join(parts, " ")
}

func hoursOf(value string) (week [7]shop.Hours) {
	for d, part := range strings.Fields(value) {
		open, end, ok := strings.Cut(part, "-")
		a, err := strconv.Atoi(open)
		b, err2 := strconv.Atoi(end)
		if ok && err == nil && err2 == nil && d < 7 {
			week[d] = shop.Hours{Open: a, Close: b}
		}
	}
	return week
}

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
