package ask

import (
	"fmt"
	"slices"
	"strconv"

	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// Reader reads what the speaker types about time.
func Reader(c *engine.Talk) when.Reader {
	order := when.OrderOf(c.F.Shop.Country)
	return when.Reader{Words: when.WordsOf(c.V.List), Today: c.Today(), Order: order}
}

// Days reads the days a person names: today, tomorrow, friday, until friday,
// 24 december, 24 to 27 december, friday to sunday. What follows is the rest.
// A day without a year is the next one of that name. No day at all is today.
func Days(c *engine.Talk, s string) (from, to shop.Date, rest string) {
	days, rest, why := Reader(c).Days(s, when.Ahead)
	if why != when.OK {
		return c.Today(), c.Today(), rest
	}
	return days.From, days.To, rest
}

// Unclear reports whether a text begins with a day that there is not, or that can
// be read in two ways, so that today is not taken in its place.
func Unclear(c *engine.Talk, s string) bool {
	_, _, why := Reader(c).Days(s, when.Ahead)
	return why == when.Impossible || why == when.Ambiguous
}

// IsWord reports whether a word is one of those in the catalogue under a name.
func IsWord(c *engine.Talk, name, word string) bool {
	return slices.Contains(c.V.List("words."+name), word)
}

// TimeOfDay reads 15:00, 15.30, 9, 9am or 3 pm as minutes after midnight, and
// the rest; -1 for none.
func TimeOfDay(s string) (minutes int, rest string) {
	minutes, rest, why := when.Clock(s)
	if why != when.OK {
		return -1, s
	}
	return minutes, rest
}

// DayYear words a day, with its year when that is not this one.
func DayYear(c *engine.Talk, d shop.Date) string {
	if year := d.Time().Year(); year != c.Today().Time().Year() {
		return c.V.Day(d.Time()) + " " + strconv.Itoa(year)
	}
	return c.V.Day(d.Time())
}

// Between words a span of days: today, Thu 24 Dec, or Thu 24 Dec to Sun 27 Dec.
func Between(c *engine.Talk, from, to shop.Date) string {
	name := func(d shop.Date) string {
		if d == c.Today() {
			return c.V.Say("today")
		}
		return DayYear(c, d)
	}
	if from == to {
		return name(from)
	}
	return c.V.Say("from-to", "from", name(from), "to", name(to))
}

// Span writes trading hours: 07:00-21:00.
func Span(h shop.Hours) string { return ClockText(h.Open) + "-" + ClockText(h.Close) }

// ClockText writes minutes after midnight.
func ClockText(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }
