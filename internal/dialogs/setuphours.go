package dialogs

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/shop"
)

func hoursTopic() topic {
	return topic{
		name: "hours",
		offer: func(c *talk) []offer {
			var list []offer
			for _, h := range []shop.Hours{
				{Open: 7 * 60, Close: 21 * 60}, {Open: 8 * 60, Close: 20 * 60}, {Open: 9 * 60, Close: 18 * 60},
			} {
				var week [7]shop.Hours
				for d := range week {
					week[d] = h
				}
				list = append(list, offer{c.v.Say("every-day", "hours", span(h)), hoursText(week)})
			}
			return list
		},
		show: func(c *talk, v string) string { return c.showHours(hoursOf(v)) },
		doubt: func(c *talk, v string) string {
			for _, h := range hoursOf(v) {
				if h.Close <= h.Open && h != (shop.Hours{}) {
					return c.v.Say("hours-doubt", "hours", span(h))
				}
			}
			return ""
		},
		read: func(c *talk, s string) (value, problem string) {
			var days [7]string
			for d := range days {
				days[d] = fold(c.v.Say("weekday." + strconv.Itoa(d)))
			}
			week, ok := ParseHours(s, days, fold(c.v.Say("closed-day")))
			if !ok {
				return "", c.v.Say("hours-unread")
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
func (c *talk) showHours(week [7]shop.Hours) string {
	var out []string
	for i := 1; i <= 7; {
		last := i
		for last < 7 && week[(last+1)%7] == week[i%7] {
			last++
		}
		days := c.v.Say("weekday." + strconv.Itoa(i%7))
		if last > i {
			days += "-" + c.v.Say("weekday."+strconv.Itoa(last%7))
		}
		what := c.v.Say("closed-day")
		if h := week[i%7]; h != (shop.Hours{}) {
			what = span(h)
		}
		out = append(out, days+" "+what)
		i = last + 1
	}
	return strings.Join(out, ", ")
}

// ParseHours reads trading hours: "7-21" is every day, "mon-fri 7-21, sat 8-20,
// sun closed" says it by day. Days are the words for Sunday to Saturday, small;
// days not named are closed. A close at or before the opening is the next day's.
func ParseHours(s string, days [7]string, closed string) (week [7]shop.Hours, ok bool) {
	if len(s) > 200 {
		return week, false
	}
	var seen [7]bool
	for part := range strings.SplitSeq(fold(s), ",") {
		words := strings.Fields(part)
		if len(words) == 0 {
			return week, false
		}
		span, which := words[len(words)-1], words[:len(words)-1]
		hours, ok := parseSpan(span)
		if span != closed && !ok {
			return week, false
		}
		list, ok := parseDays(which, days)
		if !ok {
			return week, false
		}
		for _, d := range list {
			if seen[d] {
				return week, false
			}
			week[d], seen[d] = hours, true
		}
	}
	return week, slices.ContainsFunc(week[:], func(h shop.Hours) bool { return h != shop.Hours{} })
}

// parseDays reads "mon-fri", "sat" or nothing, which is every day.
func parseDays(which []string, days [7]string) (list []int, ok bool) {
	if len(which) == 0 {
		return []int{0, 1, 2, 3, 4, 5, 6}, true
	}
	if len(which) != 1 {
		return nil, false
	}
	from, to, ranged := strings.Cut(which[0], "-")
	a, b := dayNamed(from, days), dayNamed(to, days)
	if !ranged {
		b = a
	}
	if a < 0 || b < 0 {
		return nil, false
	}
	for d := a; ; d = (d + 1) % 7 {
		if list = append(list, d); d == b {
			return list, true
		}
	}
}

func dayNamed(word string, days [7]string) int {
	return slices.IndexFunc(days[:], func(d string) bool { return word != "" && strings.HasPrefix(word, d) })
}

// parseSpan reads "7-21" or "07:30-21:00".
func parseSpan(s string) (h shop.Hours, ok bool) {
	open, end, ok := strings.Cut(strings.ReplaceAll(s, "–", "-"), "-")
	if !ok {
		return h, false
	}
	a, okA := parseMinutes(open)
	b, okB := parseMinutes(end)
	return shop.Hours{Open: a, Close: b}, okA && okB && a != b && a < dayMinutes
}

const dayMinutes = 24 * 60

func parseMinutes(s string) (int, bool) {
	hour, minute, has := strings.Cut(s, ":")
	if !has {
		minute = "0"
	}
	h, okH := index(hour, 25)
	m, okM := index(minute, 60)
	return h*60 + m, okH && okM && h*60+m <= dayMinutes
}
