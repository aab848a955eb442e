package dialogs

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/counts"
)

// parseWhen reads "06:40", "yesterday 18:30", "24.11. 06:40", "24 Nov, 06:40" or
// "Tue 24 Nov, 06:40", as the cards write it, on the shop's clock. A time without
// a date is the last one that has passed.
func (c *talk) parseWhen(s string) (time.Time, bool) {
	now := c.local(c.in.At)
	day, rest, back := c.cutDay(counts.Fold(fold(s)), now)
	rest = strings.Trim(rest, ",. ")
	if word, after, _ := strings.Cut(rest, " "); c.isWord("at", word) {
		rest = after
	}
	hour, minute, ok := clockOf(rest)
	if !ok {
		return time.Time{}, false
	}
	t := time.Date(day.Year(), day.Month(), day.Day(), hour, minute, 0, 0, now.Location())
	if t.After(now) {
		t = t.AddDate(0, 0, -back)
	}
	return t, true
}

// cutDay cuts the day off a text: its date, a weekday, yesterday, or none, which
// is today. back is how many days earlier it is when its time has not come yet.
func (c *talk) cutDay(s string, now time.Time) (day time.Time, rest string, back int) {
	word, after := cutWord(s)
	weekday := c.nameIn("words.weekdays", word)
	if weekday >= 0 {
		if d, rest, ok := c.cutDate(after, now); ok {
			return d, rest, 0
		}
		return now.AddDate(0, 0, -(int(now.Weekday())-weekday+7)%7), after, 7
	}
	if d, rest, ok := c.cutDate(s, now); ok {
		return d, rest, 0
	}
	switch {
	case c.isWord("yesterday", word):
		return now.AddDate(0, 0, -1), after, 0
	case c.isWord("today", word):
		return now, after, 0
	}
	return now, s, 1
}

// cutWord cuts off the first word without the sign behind it.
func cutWord(s string) (word, rest string) {
	word, rest, _ = strings.Cut(strings.TrimSpace(s), " ")
	return strings.TrimRight(word, ",."), strings.TrimSpace(rest)
}

// cutDate reads a day and month, "24.11.", "24/11", "2026-11-24", "24 Nov" or
// "Nov 24", with a year or without.
func (c *talk) cutDate(s string, now time.Time) (time.Time, string, bool) {
	first, rest := cutWord(s)
	if t, err := time.ParseInLocation(time.DateOnly, first, now.Location()); err == nil {
		return t, rest, true
	}
	second, after := cutWord(rest)
	if m := c.nameIn("words.months", second); m >= 0 {
		return dateOf(dayOfMonth(first), m+1, after, now)
	}
	if m := c.nameIn("words.months", first); m >= 0 {
		return dateOf(dayOfMonth(second), m+1, after, now)
	}
	parts := strings.FieldsFunc(first, func(r rune) bool { return r == '.' || r == '/' || r == '-' })
	if len(parts) == 3 {
		rest = parts[2] + " " + rest
	} else if len(parts) != 2 {
		return now, s, false
	}
	d, err1 := strconv.Atoi(parts[0])
	m, err2 := strconv.Atoi(parts[1])
	if err1 != nil || err2 != nil {
		return now, s, false
	}
	return dateOf(d, m, rest, now)
}

// dateOf gives a day, with the year when one follows. Without it, a day that has
// not come yet is that of last year where it can be meant, as in January.
func dateOf(day, month int, rest string, now time.Time) (time.Time, string, bool) {
	year, named := now.Year(), false
	if word, after := cutWord(rest); len(word) == 4 && bareNumber(word) {
		year, _ = strconv.Atoi(word)
		rest, named = after, true
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, now.Location())
	if t.Day() != day || int(t.Month()) != month {
		return now, rest, false
	}
	if before := t.AddDate(-1, 0, 0); !named && t.After(now) && now.Sub(before) <= earliest {
		t = before
	}
	return t, rest, true
}

func clockOf(s string) (hour, minute int, ok bool) {
	for _, layout := range []string{"15:04", "15.04", "3:04pm", "3.04pm", "3pm", "15"} {
		if t, err := time.Parse(layout, strings.ReplaceAll(s, " ", "")); err == nil {
			return t.Hour(), t.Minute(), true
		}
	}
	return 0, 0, false
}
