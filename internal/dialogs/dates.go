package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

// days reads the days a person names: today, tomorrow, friday, until friday,
// 24 december, 24 to 27 december, friday to sunday. What follows is the rest.
// A day without a year is the next one of that name. No day at all is today.
func (c *talk) days(s string) (from, to shop.Date, rest string) {
	today := c.today()
	words := strings.Fields(strings.NewReplacer("-", " - ", "–", " - ", ",", " , ").Replace(s))
	from, to = today, today
	if len(words) > 0 && c.isWord("until", words[0]) {
		if until, _, used := c.date(words[1:], today, ""); used > 0 {
			return today, max(until, today), joinWords(words[1+used:])
		}
	}
	if len(words) > 0 && c.isWord("on", words[0]) {
		words = words[1:]
	}
	first, month, used := c.date(words, today, c.monthAfter(words))
	if used == 0 {
		return from, to, joinWords(words)
	}
	words = words[used:]
	from, to = first, first
	if len(words) > 1 && c.isWord("to", words[0]) {
		if last, _, used := c.date(words[1:], first, month); used > 0 && last >= first {
			return from, last, joinWords(words[1+used:])
		}
	}
	return from, to, joinWords(words)
}

func joinWords(words []string) string {
	return strings.TrimSpace(strings.Trim(strings.ReplaceAll(strings.Join(words, " "), " ,", ","), ",.!"))
}

// isWord reports whether a word is one of those in the catalogue under a name.
func (c *talk) isWord(name, word string) bool {
	return slices.Contains(c.v.List("words."+name), word)
}

// date reads one day, from a date on, and how many words it took; 0 for none.
// A day of the month without its month takes the one given.
func (c *talk) date(words []string, from shop.Date, month string) (d shop.Date, named string, used int) {
	if len(words) == 0 {
		return "", "", 0
	}
	w := strings.TrimRight(words[0], ".")
	switch {
	case c.isWord("today", w):
		return c.today(), "", 1
	case c.isWord("tomorrow", w):
		return c.today().Add(1), "", 1
	}
	if day := c.nameIn("words.weekdays", w); day >= 0 {
		return from.Add((day - int(from.Weekday()) + 7) % 7), "", 1
	}
	if t, err := time.Parse(time.DateOnly, strings.Join(words[:min(5, len(words))], "")); err == nil {
		return shop.DateOf(t), "", 5
	}
	if len(words) > 1 {
		if n := dayOfMonth(words[1]); n > 0 && c.nameIn("words.months", w) >= 0 {
			return next(from, n, c.nameIn("words.months", w)+1), w, 2
		}
	}
	n := dayOfMonth(w)
	if n == 0 {
		return "", "", 0
	}
	if len(words) > 1 && c.nameIn("words.months", strings.TrimRight(words[1], ".")) >= 0 {
		month, used = strings.TrimRight(words[1], "."), 1
	}
	m := c.nameIn("words.months", month)
	if m < 0 {
		return "", "", 0
	}
	d = next(from, n, m+1)
	if d == "" {
		return "", "", 0
	}
	return d, month, 1 + used
}

// monthAfter finds the month in "24 to 27 december", which stands last.
func (c *talk) monthAfter(words []string) string {
	if len(words) > 3 && c.isWord("to", words[1]) && dayOfMonth(words[2]) > 0 {
		return strings.TrimRight(words[3], ".")
	}
	return ""
}

// nameIn finds a name of a list in the catalogue by at least its first three
// letters; -1 for none.
func (c *talk) nameIn(list, word string) int {
	if len(word) < 3 {
		return -1
	}
	return slices.IndexFunc(c.v.List(list), func(name string) bool {
		return strings.HasPrefix(name, word)
	})
}

func dayOfMonth(s string) int {
	for _, end := range []string{"st", "nd", "rd", "th", "."} {
		s = strings.TrimSuffix(s, end)
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 31 {
		return 0
	}
	return n
}

// next gives the next date with a day and month, from a date on; none when
// there is no such day.
func next(from shop.Date, day, month int) shop.Date {
	for year := from.Time().Year(); year <= from.Time().Year()+8; year++ {
		t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
		if d := shop.DateOf(t); t.Day() == day && d >= from {
			return d
		}
	}
	return ""
}

// timeOfDay reads 15:00, 15.30, 9, 9am or 3 pm as minutes after midnight, and
// the rest; -1 for none.
func timeOfDay(s string) (minutes int, rest string) {
	word, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	half := 0
	low := strings.ToLower(word)
	if after, _, _ := strings.Cut(rest, " "); after == "am" || after == "pm" {
		low, rest = low+after, strings.TrimSpace(strings.TrimPrefix(rest, after))
	}
	if cut, ok := strings.CutSuffix(low, "pm"); ok {
		low, half = cut, 12
	} else if cut, ok := strings.CutSuffix(low, "am"); ok {
		low, half = cut, -1
	}
	hour, minute, _ := strings.Cut(strings.NewReplacer(".", ":", "h", ":").Replace(low), ":")
	h, err := strconv.Atoi(hour)
	m := 0
	if minute != "" && err == nil {
		m, err = strconv.Atoi(minute)
	}
	if half != 0 {
		if h < 1 || h > 12 {
			return -1, s
		}
		h = h%12 + max(half, 0)
	}
	if err != nil || h < 0 || h > 24 || m < 0 || m > 59 || h == 24 && m > 0 {
		return -1, s
	}
	return h*60 + m, rest
}

// dayYear words a day, with its year when that is not this one.
func (c *talk) dayYear(d shop.Date) string {
	if year := d.Time().Year(); year != c.today().Time().Year() {
		return c.v.Day(d.Time()) + " " + itoa(year)
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
