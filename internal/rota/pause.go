package rota

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// lunch parts a text at the words for a pause: what stands before, and what is said of it.
func lunch(t *telling.Teller, s string, more ...string) (before, after string, ok bool) {
	list := append(slices.Clone(t.V.List("words.lunch")), more...)
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) })
	for _, said := range list {
		before, after, ok = strings.Cut(" "+s+" ", " "+said+" ")
		if ok && strings.ContainsAny(after, "0123456789") {
			return strings.Trim(before, " ,;:"), strings.TrimSpace(after), true
		}
	}
	return "", "", false
}

// pauseOf reads from when to when a pause is, by the letter, and on which days.
func pauseOf(t *telling.Teller, s string) (from, to int, on [7]bool, ok bool) {
	said, why := telling.Reader(t).Trading(s)
	week := said.Week
	if said.Doubt {
		week = said.Literal
	}
	day := slices.Index(said.Named[:], true)
	if why != when.OK || day < 0 || said.From != "" || said.Since != "" || week[day].Split() {
		return 0, 0, on, false
	}
	for d, named := range said.Named {
		if named && week[d] != week[day] {
			return 0, 0, on, false
		}
	}
	return week[day].Open, week[day].Close, said.Named, true
}

// pause reads the pause of one day: closed for lunch 1 to 2.
func (k *manner) pause(s string) (shop.Hours, bool) {
	before, after, ok := lunch(k.t, s)
	from, to, _, is := pauseOf(k.t, after)
	if !ok || !is || before != "" || k.usual.Split() {
		return shop.Hours{}, false
	}
	return k.usual.WithPause(from, to)
}

// shortPause bounds one that is only said to be closed, in minutes: closed from 1 to 2 every day. Common
// practice, no source.
const shortPause = 3 * 60

// pause reads when the shop is closed in the middle of its days: lunch break 12-14.
func (d *Draft) pause(t *telling.Teller, line string) bool {
	bare, r := (&manner{t: t}).bare(line), d.reader(t)
	before, after, ok := lunch(t, bare)
	if !ok && !strings.Contains(line, ",") {
		before, after, ok = lunch(t, bare, r.Words.Closed...)
		from, to, _, _ := pauseOf(t, after)
		ok = ok && (to-from+shop.DayMinutes)%(shop.DayMinutes/2) <= shortPause
	}
	week := *r.Usual
	if days, left, why := r.Weekdays(before); before != "" {
		ok = ok && why == when.OK && left == ""
		for day := range week {
			if !slices.Contains(days, time.Weekday(day)) {
				week[day] = shop.Hours{}
			}
		}
	}
	return ok && d.pauses(t, after, week)
}

// pauses lays a pause into the hours of each day that has any.
func (d *Draft) pauses(t *telling.Teller, s string, week [7]shop.Hours) bool {
	from, to, on, ok := pauseOf(t, s)
	laid := false
	for day, h := range week {
		if h, is := h.WithPause(from, to); ok && is && on[day] {
			note(&d.Hours, h, time.Weekday(day))
			laid = true
		}
	}
	return laid
}

// saysPause reports whether a line speaks of a pause.
func saysPause(t *telling.Teller, line string) bool { return (&Draft{}).pause(t, line) }

// partOfDay reports whether a text speaks of a part of a day.
func partOfDay(t *telling.Teller, s string) bool {
	return slices.ContainsFunc(strings.Fields(s), func(w string) bool {
		return t.IsWord("day-parts", strings.Trim(w, ",.!?"))
	})
}

// Unsaid says what is missing in a sentence about hours that has no figures, so that it is asked back:
// half day wednesday, closed on wednesday afternoons, open every first sunday. Empty: it is none.
func Unsaid(t *telling.Teller, text string) string {
	s := strings.Trim(text, " .!?")
	k := manner{t: t}
	has := func(list string) bool { return k.without(s, list) != s }
	if strings.ContainsAny(text, "0123456789?") || len(strings.Fields(s)) > sayingWords ||
		!has("each-month") && !timely(t, s) && !has("today") && !has("tomorrow") {
		return ""
	}
	verb := func(w string) bool { opens, closes := k.verb(w); return opens || closes }
	_, rest, somebody := person(t, s)
	if !somebody {
		rest = s
	}
	if slices.ContainsFunc(strings.Fields(rest), func(w string) bool { return !ofHours(t, w) && !verb(w) }) {
		return "" // who opens tomorrow morning
	}
	opens := has("closed") || slices.ContainsFunc(strings.Fields(k.bare(s)), verb)
	switch part := partOfDay(t, s); {
	case somebody && (has("half-days") || part):
		return "away-part"
	case has("each-month") && opens:
		return "each-month"
	case has("half-days"):
		return "half"
	case part && opens:
		return "part"
	}
	return ""
}

// sayingWords is how many words such a sentence has at most.
const sayingWords = 8

// ofHours reports whether a word is one of those in which hours are said.
func ofHours(t *telling.Teller, w string) bool {
	w = strings.Trim(w, ",.!")
	r := telling.Reader(t)
	_, weekday := r.Weekday(strings.TrimSuffix(w, "s"))
	lists := slices.Concat(r.Words.Closed, r.Words.Open, r.Words.On, r.Words.Every, r.Words.The, r.Words.Today,
		r.Words.Tomorrow, r.Words.Except, r.Words.DayOff, r.Words.This, r.Words.Next)
	for _, list := range []string{"day-parts", "half-days", "each-month", "around-hours", "who-is-open",
		"cannot-come", "works-on", "does-open", "does-close", "open-day"} {
		lists = append(lists, t.V.List("words."+list)...)
	}
	return weekday || slices.ContainsFunc(lists, func(said string) bool {
		return slices.Contains(strings.Fields(said), w)
	})
}
