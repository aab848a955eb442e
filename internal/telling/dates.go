package telling

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// Reader reads what the speaker types about time.
func Reader(t *Teller) when.Reader {
	order := when.OrderOf(t.F.Shop.Country)
	return when.Reader{Words: when.WordsOf(t.V.List), Today: t.Today(), Order: order,
		Orthodox: when.KeepsOrthodox(t.F.Shop.Country)}
}

// Days reads the days a person names: today, tomorrow, friday, until friday,
// 24 december, 24 to 27 december, friday to sunday. What follows is the rest.
// A day without a year is the next one of that name. No day at all is today.
func Days(t *Teller, s string) (from, to shop.Date, rest string) {
	days, rest, why := Reader(t).Days(s, when.Ahead)
	if why != when.OK {
		return t.Today(), t.Today(), rest
	}
	return days.From, days.To, rest
}

// Unclear reports whether a text begins with a day that there is not, or that can
// be read in two ways, so that today is not taken in its place.
func Unclear(t *Teller, s string) bool {
	_, _, why := Reader(t).Days(s, when.Ahead)
	return why == when.Impossible || why == when.Ambiguous
}

// IsWord reports whether a word is one of those in the catalogue under a name.
func (t *Teller) IsWord(name, word string) bool {
	return slices.Contains(t.V.List("words."+name), word)
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
func (t *Teller) DayYear(d shop.Date) string {
	if year := d.Time().Year(); year != t.Today().Time().Year() {
		return t.V.Day(d.Time()) + " " + strconv.Itoa(year)
	}
	return t.V.Day(d.Time())
}

// Between words a span of days: today, Thu 24 Dec, or Thu 24 Dec to Sun 27 Dec.
func (t *Teller) Between(from, to shop.Date) string {
	name := func(d shop.Date) string {
		if d == t.Today() {
			return t.V.Say("today")
		}
		return t.DayYear(d)
	}
	if from == to {
		return name(from)
	}
	return t.V.Say("from-to", "from", name(from), "to", name(to))
}

// Span writes trading hours: 07:00-21:00.
func Span(h shop.Hours) string {
	if h.Split() {
		return Span(shop.Hours{Open: h.Open, Close: h.PauseFrom}) + ", " +
			Span(shop.Hours{Open: h.PauseTo, Close: h.Close})
	}
	return ClockText(h.Open) + "-" + ClockText(h.Close)
}

// ClockText writes minutes after midnight.
func ClockText(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }

// YearDay words a day of every year, MM-DD.
func YearDay(t *Teller, day string) string {
	year := strconv.Itoa(t.Today().Time().Year())
	date, err := shop.ParseDate(year + "-" + day)
	if err != nil { // 29 February in most years
		return t.V.Day(shop.Date(year + "-03-01").Add(-1).Time())
	}
	return t.V.Day(date.Time())
}

// EndsMonth finds words that close a month of the books. They are never about the
// machine: what comes is the month.
func EndsMonth(t *Teller, low string) (month string, ok bool) {
	for _, w := range t.V.List("words.month-ends") {
		after, found := strings.CutPrefix(low, w+" ")
		if !found {
			continue
		}
		for _, named := range append(t.V.List("words.month"), "") {
			m := strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(after, "the "), named))
			if _, why := Reader(t).Month(m, when.Back); why == when.OK && !maybeCount(m) {
				if t.IsWord("month", m) {
					m = monthToEnd(t.Today())
				}
				return m, true
			}
		}
	}
	return "", false
}

// halfway is the day until which "finish the month" is about the one before: nobody is done
// with a month in its first half. Common practice, no source.
const halfway = 15

// monthToEnd is the month that is meant where none is named.
func monthToEnd(today shop.Date) string {
	day := today.Time()
	if day.Day() <= halfway {
		day = day.AddDate(0, 0, -day.Day())
	}
	return day.Format("2006-01")
}

// maybeCount reports whether what can be read as a month may be a number of notes: figures
// without a year of four and a sign beside it, as in 2026-11 and 11/2026.
func maybeCount(m string) bool {
	if strings.Trim(m, "0123456789 .-/") != "" {
		return false
	}
	sign := strings.Trim(m, "0123456789")
	return len(m) < len("1/2026") || sign != "-" && sign != "/" && sign != "."
}

// Without drops the words of a catalogue list from a text.
func Without(t *Teller, text, list string) string {
	drop := t.V.List(list)
	return strings.Join(slices.DeleteFunc(strings.Fields(text), func(w string) bool {
		return slices.Contains(drop, texts.Fold(w))
	}), " ")
}
