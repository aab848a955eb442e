package rota

import (
	"strings"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// noMore reads that days of the week are closed from now on: no more saturdays, we don't open on
// mondays any more.
func (d *Draft) noMore(t *telling.Teller, line string) bool {
	k := manner{t: t}
	s := k.bare(line)
	no := phraseOf(t, "no-more", s)
	if left := k.without(s, "any-more"); no == "" && left != s {
		if s, no = left, phraseOf(t, "not-open", left); no == "" {
			no = phraseOf(t, "not-work", left)
		}
	}
	r := telling.Reader(t)
	rest := strings.TrimSpace(s[len(no):])
	for _, on := range r.Words.On {
		rest = strings.TrimPrefix(rest, on+" ")
	}
	days, left, why := r.Weekdays(rest)
	if no == "" || why != when.OK || strings.TrimSpace(left) != "" {
		return false
	}
	note(&d.Hours, shop.Hours{}, days...)
	return true
}

// sinceTime reads an opening or closing that is another one from some day on: from monday we open
// at 8 instead of 9, we close an hour earlier from monday.
func (d *Draft) sinceTime(t *telling.Teller, line string) bool {
	r := d.reader(t)
	for _, since := range r.Words.Since {
		before, after, is := strings.Cut(" "+line, " "+since+" ")
		if day, why := r.Day(after, when.Ahead); is && before != "" && why == when.OK {
			return d.atSince(t, day, before)
		}
		words := strings.Fields(after)
		for n := min(dayWords, len(words)-1); is && before == "" && n > 0; n-- {
			days, left, why := r.Days(strings.Join(words[:n], " "), when.Ahead)
			if why == when.OK && left == "" {
				return d.atSince(t, days.From, strings.Join(words[n:], " "))
			}
		}
	}
	return false
}

// nowAt reads an opening or closing that is another one from now on: we now open at 8.
func (d *Draft) nowAt(t *telling.Teller, line string) bool {
	k := manner{t: t}
	plain := k.without(k.without(line, "from-now-on"), "only-now")
	return plain != strings.TrimSpace(line) && d.atSince(t, t.Today(), plain)
}

// eachOpens reads who opens or closes every week: ben opens on mondays, ben always opens.
func (d *Draft) eachOpens(t *telling.Teller, line string) bool {
	always := (&manner{t: t}).without(line, "always")
	p, opens, rest, ok := DutyIn(t, always)
	r := telling.Reader(t)
	days, each := r.EachWeek(rest)
	if many, left, why := r.Weekdays(rest); !each && why == when.OK && left == "" && len(many) > 1 {
		days, each = many, true
	}
	if rest == "" && always != line {
		days, _, _ = r.Weekdays(r.Words.EveryDay[0])
		each = true
	}
	if !ok || !each {
		return false
	}
	if opens {
		note(&d.Opens, p.ID, days...)
	} else {
		note(&d.Closes, p.ID, days...)
	}
	return true
}

// dayWords is how many words name a day: the first of february.
const dayWords = 4

// atSince lays down, for the days on which the shop trades, what is said of one end of them.
func (d *Draft) atSince(t *telling.Teller, day shop.Date, how string) bool {
	for _, than := range t.V.List("words.instead-of") {
		how, _, _ = strings.Cut(how, " "+than+" ")
	}
	k := manner{t: t, usual: usualOf(t, day)}
	c, ok := k.at(k.bare(how))
	if !ok {
		c, ok = k.moved(k.bare(how))
	}
	if !ok {
		return false
	}
	season := shop.Season{Since: day}
	for weekday, h := range d.reader(t).Usual {
		if h == (shop.Hours{}) {
			continue
		}
		if c.Open != nil {
			h.Open = *c.Open
		}
		if c.Close != nil {
			h.Close = *c.Close
		}
		if h.Split() && !h.Sound() {
			h.PauseFrom, h.PauseTo = 0, 0
		}
		season.Hours[weekday] = &h
		if day <= t.Today() {
			note(&d.Hours, h, time.Weekday(weekday))
		}
	}
	if day > t.Today() {
		d.Seasons = append(d.Seasons, season)
	}
	return true
}
