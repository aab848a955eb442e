package when

import (
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// Trading is what somebody said of when a shop is open.
type Trading struct {
	Week  [7]shop.Hours // Sunday first, by the likeliest reading; zero for days that were not named
	Named [7]bool       // days that were named, or meant by naming none

	// Doubt: it can be read in another way, Literal: 9-5 as 09:00 to 05:00 of the next day.
	// Where both are the same it is hours past midnight, to be sure of.
	Doubt   bool
	Literal [7]shop.Hours

	// From and To are the days of a part of every year, MM-DD; empty: all of it.
	From, To string
}

// Trading reads hours of a shop in the ways people say them: 9-5, mon-fri 9-18 and sat
// 10-14, 7-13 and 15-19, 9-18 on weekdays, 24/7, 9-18 except sunday, from 1 june to 31
// august 8-22. Where no day is named every day is meant. A day named twice is Ambiguous.
func (r Reader) Trading(text string) (Trading, Reason) {
	s := r.scan(text)
	t := trading{scan: s}
	i := t.season()
	for first := true; first || !s.done(i); first = false {
		n, why := t.item(i)
		if why != OK {
			return Trading{}, why
		}
		i = s.skip(i+n, ",;")
		i += s.phrase(i, s.Words.And)
	}
	return t.said, OK
}

// trading is a text about hours under way.
type trading struct {
	*scan
	said Trading
}

// season reads the days of a year that hours are for, and how many tokens they took. One
// of its days names a month: 9-5 is none.
func (t *trading) season() int {
	i := t.passOpen(0)
	days, rest, why := t.Days(t.rest(i), Ahead)
	if why != OK || days.From == days.To || rest == "" {
		return 0
	}
	all := len(lex(rest))
	end := len(t.toks) - all
	for ; end > 0 && t.rest(end) != rest; end-- {
	}
	if !slices.ContainsFunc(t.toks[i:end], func(k token) bool { return nameIn(t.Words.Months, k.text) >= 0 }) {
		return 0
	}
	t.said.From, t.said.To = string(days.From[5:]), string(days.To[5:])
	return t.skip(end, ":,;")
}

// item reads days and their hours, in either order, and how many tokens they took.
func (t *trading) item(i int) (n int, why Reason) {
	at := t.passOpen(i)
	days, used := t.days(at)
	at = t.skip(at+used, ":,")
	if used > 0 {
		at = t.passOpen(at)
	}
	h, literal, used, why := t.open(at)
	if why != OK {
		return 0, why
	}
	at += used
	if days == nil {
		days, used = t.daysAfter(at)
		at += used
	}
	if days == nil {
		days = t.others()
	}
	if !t.lay(days, h, literal) {
		return 0, Ambiguous
	}
	at, why = t.except(at)
	return at - i, why
}

// passOpen passes over the words before hours.
func (t *trading) passOpen(i int) int {
	for n := t.phrase(i, t.Words.Open); n > 0; n = t.phrase(i, t.Words.Open) {
		i += n
	}
	return i
}

// days reads days of the week, and how many tokens they took; none where none are named.
func (t *trading) days(i int) (days []time.Weekday, n int) {
	if n := t.phrase(i, t.Words.Else); n > 0 {
		return t.others(), n
	}
	for at := i; ; {
		list, used := t.named(at)
		if used == 0 {
			return days, n
		}
		days = append(days, list...)
		n = at + used - i
		at = t.join(at + used)
	}
}

// named reads one word for days, or several days in a row.
func (t *trading) named(i int) (days []time.Weekday, n int) {
	if n := t.phrase(i, t.Words.Workdays); n > 0 {
		return between(nil, int(time.Monday), int(time.Friday)), n
	}
	if n := t.phrase(i, t.Words.Weekend); n > 0 {
		return between(nil, int(time.Saturday), int(time.Sunday)), n
	}
	if n := t.phrase(i, t.Words.EveryDay); n > 0 {
		return everyDay(), n
	}
	i0 := i
	i += t.phrase(i, t.Words.On)
	from := t.shortDay(i)
	if from < 0 {
		return nil, 0
	}
	i++
	if to := t.phrase(i, t.Words.To); to > 0 && t.shortDay(i+to) >= 0 {
		return between(nil, from, t.shortDay(i+to)), i + to + 1 - i0
	}
	return []time.Weekday{time.Weekday(from)}, i - i0
}

// shortDay reads a day of the week, also of two letters, as on a shop's door: mo-fr.
func (t *trading) shortDay(i int) int {
	if day := t.anyWeekday(i); day >= 0 {
		return day
	}
	word := t.at(i).text
	found := -1
	for day, name := range t.Words.Weekdays {
		if len(word) == 2 && len(name) > 2 && name[:2] == word {
			if found >= 0 {
				return -1
			}
			found = day
		}
	}
	return found
}

// daysAfter reads days behind their hours, unless they begin what comes next.
func (t *trading) daysAfter(i int) (days []time.Weekday, n int) {
	days, n = t.days(i)
	if n == 0 {
		return nil, 0
	}
	if next := t.skip(i+n, ":"); next == i+n {
		if _, _, _, why := t.open(next); why != OK {
			return days, n
		}
	}
	return nil, 0
}

// others are the days that were not named yet.
func (t *trading) others() (days []time.Weekday) {
	for d, named := range t.said.Named {
		if !named {
			days = append(days, time.Weekday(d))
		}
	}
	return days
}

// except reads days behind "except", which are closed.
func (t *trading) except(i int) (int, Reason) {
	n := t.phrase(i, t.Words.Except)
	if n == 0 {
		return i, OK
	}
	days, used := t.days(i + n)
	if used == 0 {
		return i, Unknown
	}
	for _, d := range days {
		t.said.Week[d], t.said.Literal[d], t.said.Named[d] = shop.Hours{}, shop.Hours{}, true
	}
	return i + n + used, OK
}

// lay gives days their hours; false where one had some already.
func (t *trading) lay(days []time.Weekday, h, literal shop.Hours) bool {
	for _, d := range days {
		if t.said.Named[d] {
			return false
		}
		t.said.Week[d], t.said.Literal[d], t.said.Named[d] = h, literal, true
	}
	return len(days) > 0
}

// open reads the hours of a day, or that it is closed, and how many tokens they took: by
// the likeliest reading and by the letter.
func (t *trading) open(i int) (h, literal shop.Hours, n int, why Reason) {
	if n := t.phrase(i, t.Words.Closed); n > 0 {
		return h, literal, n, OK
	}
	if n := t.phrase(i, t.Words.Round); n > 0 && !t.follows(i+n, number) {
		h = shop.Hours{Open: 0, Close: dayMinutes}
		return h, h, n, OK
	}
	h, literal, n, why = t.stretch(i)
	if why != OK {
		return h, literal, 0, why
	}
	again := t.skip(i+n, ",")
	again += t.phrase(again, t.Words.And)
	again = t.passOpen(again)
	second, _, more, bad := t.stretch(again)
	if bad != OK || again == i+n || second.Open <= h.Close || h.Close <= h.Open {
		return h, literal, n, OK
	}
	if _, used := t.days(again + more); used > 0 && t.skip(i+n, ",") != i+n {
		// 7-13, 15-19 sat: the second belongs to what follows
		if _, _, _, why := t.open(t.skip(again+more+used, ":")); why != OK {
			return h, literal, n, OK
		}
	}
	h = shop.Hours{Open: h.Open, PauseFrom: h.Close, PauseTo: second.Open, Close: second.Close}
	return h, h, again + more - i, OK
}

// stretch reads from one time to another. A close before its opening, without am or pm,
// is likelier half a day later: 9-5.
func (t *trading) stretch(i int) (h, literal shop.Hours, n int, why Reason) {
	open, _, n, why := t.hour(i)
	if why != OK {
		return h, literal, 0, why
	}
	to := max(t.phrase(i+n, t.Words.To), t.phrase(i+n, t.Words.Closes))
	if to == 0 {
		return h, literal, 0, Unknown
	}
	n += to
	end, half, more, why := t.hour(i + n)
	if why != OK {
		return h, literal, 0, why
	}
	if open >= dayMinutes && t.phrase(i, t.Words.Midnight) > 0 {
		open = 0
	}
	if open >= dayMinutes {
		return h, literal, 0, Impossible
	}
	literal = shop.Hours{Open: open, Close: end}
	h = literal
	switch late := end + halfDay; {
	case end > open || half:
	case open == 0 && end == 0:
		h.Close = dayMinutes
		literal = h
	case late > open && late <= dayMinutes:
		h.Close, t.said.Doubt = late, true
	default:
		t.said.Doubt = true
	}
	return h, literal, n + more, OK
}

// hour reads a time of day, noon and midnight among them, and whether it says which half
// of the day it is in.
func (t *trading) hour(i int) (minutes int, half bool, n int, why Reason) {
	if n := t.phrase(i, t.Words.Noon); n > 0 {
		return halfDay, true, n, OK
	}
	if n := t.phrase(i, t.Words.Midnight); n > 0 {
		return dayMinutes, true, n, OK
	}
	minutes, n, why = t.clock(i)
	if why != OK {
		return 0, false, 0, why
	}
	last := t.at(i + n - 1).text
	return minutes, last == "am" || last == "pm" || minutes > halfDay, n, OK
}
