package dialogs

import (
	"slices"
	"strconv"

	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// reader reads what the speaker types about time.
func (c *talk) reader() when.Reader {
	order := when.OrderOf(c.f.Shop.Country)
	return when.Reader{Words: when.WordsOf(c.v.List), Today: c.today(), Order: order}
}

// days reads the days a person names: today, tomorrow, friday, until friday,
// 24 december, 24 to 27 december, friday to sunday. What follows is the rest.
// A day without a year is the next one of that name. No day at all is today.
func (c *talk) days(s string) (from, to shop.Date, rest string) {
	days, rest, why := c.reader().Days(s, when.Ahead)
	if why != when.OK {
		return c.today(), c.today(), rest
	}
	return days.From, days.To, rest
}

// unclear reports whether a text begins with a day that there is not, or that can
// be read in two ways, so that today is not taken in its place.
func (c *talk) unclear(s string) bool {
	_, _, why := c.reader().Days(s, when.Ahead)
	return why == when.Impossible || why == when.Ambiguous
}

// isWord reports whether a word is one of those in the catalogue under a name.
func (c *talk) isWord(name, word string) bool {
	return slices.Contains(c.v.List("words."+name), word)
}

// timeOfDay reads 15:00, 15.30, 9, 9am or 3 pm as minutes after midnight, and
// the rest; -1 for none.
func timeOfDay(s string) (minutes int, rest string) {
	minutes, rest, why := when.Clock(s)
	if why != when.OK {
		return -1, s
	}
	return minutes, rest
}

// dayYear words a day, with its year when that is not this one.
func (c *talk) dayYear(d shop.Date) string {
	if year := d.Time().Year(); year != c.today().Time().Year() {
		return c.v.Day(d.Time()) + " " + strconv.Itoa(year)
	}
	return c.v.Day(d.Time())
}

// between words a span of days: today, Thu 24 Dec, or Thu 24 Dec to Sun 27 Dec.
func (c *talk) between(from, to shop.Date) string {
	name := func(d shop.Date) string {
		if d == c.today() {
			return c.v.Say("today")
		}
		return c.dayYear(d)
	}
	if from == to {
		return name(from)
	}
	return c.v.Say("from-to", "from", name(from), "to", name(to))
}
