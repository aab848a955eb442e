package when

import (
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// unsaid stands for the end of hours that was not said: saturday till 16.
const unsaid = -1

// layHours gives days their hours. An end that was not said is taken from the hours before
// in the same text, or from the usual ones of the day.
func (t *trading) layHours(days []time.Weekday, h, literal shop.Hours) Reason {
	if h.Open != unsaid && h.Close != unsaid {
		if h != (shop.Hours{}) {
			t.last = &h
		}
		if !t.lay(days, h, literal) {
			return Ambiguous
		}
		return OK
	}
	for _, d := range days {
		base := t.last
		if base == nil && t.Usual != nil {
			base = &t.Usual[d]
		}
		if base == nil || *base == (shop.Hours{}) {
			return Unknown
		}
		whole := shop.Hours{Open: h.Open, Close: h.Close}
		if whole.Open == unsaid {
			whole.Open = base.Open
		} else {
			whole.Close = base.Close
		}
		by := whole
		if late := whole.Close + halfDay; h.Open == unsaid && !t.sure && whole.Close < whole.Open+shortest &&
			late > whole.Open && late <= dayMinutes {
			whole.Close, t.said.Doubt = late, true
		}
		if !t.lay([]time.Weekday{d}, whole, by) {
			return Ambiguous
		}
	}
	return OK
}

// open reads the hours of a day, or that it is closed, and how many tokens they took: by
// the likeliest reading and by the letter.
func (t *trading) open(i int) (h, literal shop.Hours, n int, why Reason) {
	if n := t.phrase(i, t.Words.Round); n > 0 && !t.follows(i+n, number) {
		h = shop.Hours{Open: 0, Close: dayMinutes}
		return h, h, n, OK
	}
	shut := max(t.phrase(i, t.Words.Closed), t.phrase(i, t.Words.DayOff))
	if shut > 0 && t.phrase(i+shut, t.Words.At) == 0 {
		return h, literal, shut, OK
	}
	h, literal, n, why = t.stretch(i)
	if why != OK {
		if one, used := t.oneEnd(i); used > 0 {
			return one, one, used, OK
		}
		return h, literal, 0, why
	}
	if h, literal, n, why = t.split(i, n, h, literal); why == OK {
		if paused, more := t.pause(i+n, h); more > 0 {
			if h == literal {
				literal = paused
			}
			h, n = paused, n+more
		}
	}
	return h, literal, n, why
}

// pause reads a pause behind hours, and how many tokens it took: 9-18, lunch 13-14; 9-6 closed 1-2.
func (t *trading) pause(i int, h shop.Hours) (shop.Hours, int) {
	at := t.skip(i, ",(;")
	said := max(t.phrase(at, t.Words.Lunch), t.phrase(at, t.Words.Closed))
	at = t.passOpen(at + said)
	from, _, n, why := t.hour(at)
	to := max(t.phrase(at+n, t.Words.To), t.phrase(at+n, t.Words.And))
	end, _, more, bad := t.hour(at + n + to)
	paused, ok := h.WithPause(from, end)
	if said == 0 || to == 0 || why != OK || bad != OK || !ok {
		return h, 0
	}
	return paused, t.skip(at+n+to+more, ")") - i
}

// oneEnd reads hours of which one end alone is said, and how many tokens they took: till 4pm,
// closes at 16, from 9.
func (t *trading) oneEnd(i int) (h shop.Hours, n int) {
	n = max(t.phrase(i, t.Words.Until), t.phrase(i, t.Words.Closes))
	if n > 0 {
		n += t.phrase(i+n, t.Words.At)
		if end, sure, used, why := t.hour(i + n); why == OK {
			t.sure = sure
			return shop.Hours{Open: unsaid, Close: end}, n + used
		}
		return h, 0
	}
	if i == 0 {
		return h, 0
	}
	before := t.at(i - 1).text
	if !slices.Contains(t.Words.During, before) && !slices.Contains(t.Words.At, before) {
		return h, 0
	}
	if open, _, used, why := t.hour(i); why == OK && open < dayMinutes {
		return shop.Hours{Open: open, Close: unsaid}, used
	}
	return h, 0
}

// split reads a second stretch behind the first: 7-13 and 15-19. One that seems to begin
// before the first ends is likelier half a day later: 9-1 and 2-6.
func (t *trading) split(i, n int, h, literal shop.Hours) (likely, letter shop.Hours, all int, why Reason) {
	again := t.skip(i+n, ",/+")
	again += t.phrase(again, t.Words.And)
	again = t.passOpen(again)
	doubt := t.said.Doubt
	second, _, more, bad := t.stretch(again)
	if bad == OK && second.Open <= h.Close && second.Close <= halfDay && second.Open+halfDay > h.Close {
		second.Open, second.Close, t.said.Doubt, doubt = second.Open+halfDay, second.Close+halfDay, true, true
		literal = shop.Hours{}
	}
	if bad != OK || second.Open <= h.Close || h.Close <= h.Open {
		t.said.Doubt = doubt
		return h, literal, n, OK
	}
	if list, used := t.days(again + more); len(list) == 1 && t.skip(i+n, ",") != i+n {
		// 7-13, 15-19 sat: the second belongs to what follows, and to both before mon to fri
		if _, _, _, why := t.open(t.skip(again+more+used, ":")); why != OK {
			t.said.Doubt = doubt
			return h, literal, n, OK
		}
	}
	both := shop.Hours{Open: h.Open, PauseFrom: h.Close, PauseTo: second.Open, Close: second.Close}
	if !t.said.Doubt {
		literal = both
	}
	return both, literal, again + more - i, OK
}

// shortest is how long hours are at least, in minutes, before they are taken as they stand:
// 7-9 is likelier from the morning to the evening. Common practice, no source.
const shortest = 3 * 60

// stretch reads from one time to another. A close before its opening, without am or pm, is
// likelier half a day later, 9-5; so is one soon after it, 7-9.
func (t *trading) stretch(i int) (h, literal shop.Hours, n int, why Reason) {
	open, openSure, n, why := t.hour(i)
	if why != OK {
		return h, literal, 0, why
	}
	bare := t.bare(i, n)
	to := t.phrase(i+n, t.Words.To)
	if to == 0 {
		and := t.phrase(t.skip(i+n, ","), t.Words.And)
		and += t.skip(i+n, ",") - i - n
		if closes := t.phrase(i+n+and, t.Words.Closes); closes > 0 {
			to = and + closes
		}
	}
	if to == 0 {
		return h, literal, 0, Unknown
	}
	n += to
	n += t.phrase(i+n, t.Words.At)
	end, sure, more, why := t.hour(i + n)
	if why != OK {
		return h, literal, 0, why
	}
	if open >= dayMinutes && t.phrase(i, t.Words.Midnight) > 0 {
		open = 0
	}
	if open >= dayMinutes {
		return h, literal, 0, Impossible
	}
	bare = bare && t.bare(i+n, more)
	literal = shop.Hours{Open: open, Close: end}
	h, literal, doubt := likelier(literal, openSure, sure, bare)
	t.said.Doubt = t.said.Doubt || doubt
	return h, literal, n + more, OK
}

// likelier gives the likelier reading of hours, what they are by the letter, and whether there
// are two; sure says of each end that its half of the day was said, bare that both are hours
// in one or two figures or in a word.
func likelier(by shop.Hours, openSure, sure, bare bool) (h, literal shop.Hours, doubt bool) {
	h = by
	late := by.Close + halfDay
	switch {
	case by.Open == 0 && by.Close == 0:
		h.Close = dayMinutes
		return h, h, false
	case !sure && by.Close < by.Open && late-by.Open < shortest:
		return h, by, true // 12-1
	case sure && by.Close <= by.Open && !openSure && by.Open < halfDay && by.Close < by.Open:
		h.Open += halfDay // 6 till 2 in the morning
		return h, by, true
	case sure, by.Close > by.Open && (!bare || openSure || by.Close-by.Open >= shortest || late > dayMinutes):
		return h, by, false
	case late > by.Open && late <= dayMinutes:
		h.Close = late
	}
	return h, by, true
}

// bare reports whether a time is an hour as people write or say it shortly: 7, seven, half seven.
func (t *trading) bare(i, n int) bool {
	_, off := t.off(i)
	k := t.at(i + off)
	return n == off+1 && (k.kind == word || k.kind == number && len(k.text) <= 2 && k.text[0] != '0')
}

// Hour reads the time of day at the beginning of a text as people say it: 3, half three, noon,
// nine at night. sure says that it names its half of the day. On refusal rest is the text.
func (r Reader) Hour(text string) (minutes int, sure bool, rest string, why Reason) {
	t := trading{scan: r.scan(text)}
	minutes, sure, n, why := t.hour(0)
	if why != OK {
		return 0, false, text, why
	}
	return minutes, sure, t.rest(n), OK
}

// hour reads a time of day, noon, midnight and hours in words among them, and whether it says
// which half of the day it is in.
func (t *trading) hour(i int) (minutes int, half bool, n int, why Reason) {
	if n := t.phrase(i, t.Words.Noon); n > 0 {
		return halfDay, true, n, OK
	}
	if n := t.phrase(i, t.Words.Midnight); n > 0 {
		return dayMinutes, true, n, OK
	}
	off, n := t.off(i)
	if at := slices.Index(t.Words.ClockHours, t.at(i+n).text); at >= 0 {
		minutes, n = (at+1)*minutesOfHour, n+1
	} else {
		m, used, why := t.clock(i + n)
		if why != OK {
			return 0, false, 0, why
		}
		minutes, n = m, n+used
		if t.at(i+n).text == "h" && t.figure(i+n+1, 2) >= 0 && len(t.at(i+n+1).text) == 2 {
			minutes, n = minutes+t.figure(i+n+1, 2), n+2 // 8 h 30
		}
	}
	last := t.at(i + n - 1).text
	half = last == "am" || last == "pm" || minutes > halfDay
	n += t.phrase(i+n, t.Words.Clocks)
	early, late := t.phrase(i+n, t.Words.Early), t.phrase(i+n, t.Words.Late)
	switch {
	case !half && early > 0:
		minutes, half = minutes%halfDay, true
	case !half && minutes < dawn && t.phrase(i+n, t.Words.ByNight) > 0: // three at night
		half = true
	case !half && late > 0 && minutes >= halfDay: // twelve at night
		minutes, half = dayMinutes, true
	case !half && late > 0:
		minutes, half = minutes+halfDay, true
	}
	if minutes += off; minutes > dayMinutes {
		return 0, false, 0, Impossible
	}
	return minutes, half, n + max(early, late), OK
}

// dawn is until when it is night, in minutes after midnight.
const dawn = 6 * 60

// minutesOfHour is how many an hour has.
const minutesOfHour = 60

// off reads how far an hour that follows is meant to be off: half past, quarter to.
func (t *trading) off(i int) (minutes, n int) {
	for _, w := range []struct {
		words   []string
		minutes int
	}{{t.Words.Half, 30}, {t.Words.QuarterPast, 15}, {t.Words.QuarterTo, -15}} {
		if n := t.phrase(i, w.words); n > 0 {
			return w.minutes, n
		}
	}
	return 0, 0
}
