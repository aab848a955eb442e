package matching

import (
	"time"

	"shopfloat/internal/shop"
)

// Spans of days.
const (
	wide  = 21 // a payment for several days, or one that is not exact, comes within
	soon  = 4  // parts of one payment come within
	usual = 4  // banking days after a day whose due date is not known
)

// usualEnd is the last day on which a payment for a claim is nothing unusual.
func (m *matcher) usualEnd(c *claim) shop.Date {
	if c.Due == "" {
		return workdays(c.Day, usual)
	}
	return workdays(c.Due, m.Slack)
}

// dueFrom is from when on a payment for a claim can be expected.
func (m *matcher) dueFrom(c *claim) shop.Date {
	if c.Due == "" {
		return c.Day.Add(1)
	}
	return c.Due
}

// inTime reports whether a day is within a claim's usual delay. Banks pay early
// now and then, never before the day itself.
func (m *matcher) inTime(d shop.Date, c *claim) bool { return d >= c.Day && d <= c.end }

// daysLate counts how far outside the usual delay a day is.
func (m *matcher) daysLate(d shop.Date, c *claim) int {
	if d > c.end {
		return between(c.end, d)
	}
	return 0
}

func between(a, b shop.Date) int { return number(b) - number(a) }

// number counts days, so that they can be taken from one another.
func number(d shop.Date) int {
	if len(d) != len("2006-01-02") {
		return 0
	}
	digit := func(i int) int { return int(d[i] - '0') }
	y := digit(0)*1000 + digit(1)*100 + digit(2)*10 + digit(3)
	m, day := digit(5)*10+digit(6), digit(8)*10+digit(9)
	if m <= 2 { // the year begins in March, so that the leap day is its last
		y, m = y-1, m+12
	}
	return 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + day
}

// workdays goes so many days from Monday to Friday on. Holidays are not known
// here; they only make a payment look late that is not, which is then asked.
func workdays(d shop.Date, n int) shop.Date {
	for n > 0 {
		d = d.Add(1)
		if w := d.Weekday(); w != time.Saturday && w != time.Sunday {
			n--
		}
	}
	return d
}
