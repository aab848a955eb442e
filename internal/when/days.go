package when

import (
	"time"

	"shopfloat/internal/shop"
)

// Range is days in a row.
type Range struct{ From, To shop.Date } // To is included

// Days reads the day or days at the beginning of a text: friday, 24 dec, 24 to
// 27 december, friday to sunday, until friday, which is from today on. rest is
// what follows; where no day is named it is the text, and so it is for a day that
// there is not. What comes after "to" leans ahead from the first day, so that 27 to
// 24 december is nearly a year; if it is no day, or one before that, it is left in
// rest.
func (r Reader) Days(text string, lean Lean) (days Range, rest string, why Reason) {
	s := r.scan(text)
	days, n, why := s.inARow(0, lean)
	if why != OK {
		days = Range{}
	}
	if n == 0 {
		return days, text, why
	}
	return days, s.rest(n), why
}

// inARow reads days in a row at a place, and how many tokens they took; where none can be
// read, how many stand before them.
func (s *scan) inARow(i int, lean Lean) (days Range, n int, why Reason) {
	if days, n, why := s.until(i); n > 0 || why != OK {
		return days, n, why
	}
	at := s.lead(i, lean)
	if days, n := s.week(at); n > 0 {
		return days, at + n - i, OK
	}
	if days, n, why := s.oneMonth(at, lean); n > 0 {
		if why != OK {
			n = 0
		}
		return days, at + n - i, why
	}
	t, used, why := s.term(at)
	if n := 0; lean != Ahead && (why == Unknown || why == Ambiguous && s.figure(at+2, 2) > monthsInYear) {
		if t, n = s.alone(at); n > 0 {
			used, why = n, OK
		}
	}
	if why == OK {
		days.From, why = s.resolve(t, s.Today, lean)
	}
	if why != OK {
		return days, at - i, why
	}
	at += used
	last, more := s.end(at, t, &days.From, lean)
	days.To = last
	return days, at + more - i, OK
}

// until reads days from today to one, and how many tokens they took: until friday.
func (s *scan) until(i int) (days Range, n int, why Reason) {
	n = s.phrase(i, s.Words.Until)
	if n == 0 {
		return days, 0, OK
	}
	n += s.phrase(i+n, s.Words.The)
	t, used, why := s.term(i + n)
	if why != OK {
		return days, 0, OK
	}
	to, why := s.resolve(t, s.Today, Ahead)
	if why != OK {
		return days, 0, why
	}
	if t.weekday >= 0 && t.month == 0 && to == s.Today {
		to = to.Add(week) // until monday, typed on a Monday
	}
	return Range{s.Today, max(s.Today, to)}, n + used, OK
}

// week reads this week, last week or next week, Monday to Sunday (ISO 8601).
func (s *scan) week(i int) (days Range, n int) {
	monday := s.Today.Add(-daysBetween(int(time.Monday), s.Today))
	for _, w := range []struct {
		words []string
		from  shop.Date
	}{{s.Words.Last, monday.Add(-week)}, {s.Words.This, monday}, {s.Words.Next, monday.Add(week)}} {
		which := s.phrase(i, w.words)
		if which == 0 {
			continue
		}
		if more := s.phrase(i+which, s.Words.Week); more > 0 {
			return Range{w.from, w.from.Add(week - 1)}, which + more
		}
	}
	return Range{}, 0
}

// Day reads one day and nothing else.
func (r Reader) Day(text string, lean Lean) (shop.Date, Reason) {
	days, rest, why := r.Days(text, lean)
	if why != OK {
		return "", why
	}
	if rest != "" || days.From != days.To {
		return "", Unknown
	}
	return days.From, OK
}

// lead passes over the words before a day.
func (s *scan) lead(i int, lean Lean) int {
	words := s.Words.On
	if lean != Ahead {
		words = s.Words.Lead
	}
	for n := s.phrase(i, words); n > 0; n = s.phrase(i, words) {
		i += n
	}
	return i + s.phrase(i, s.Words.The)
}

// oneMonth reads days whose month stands last: 24 to 27 december, thu 24 to sun
// 27 december. n is 0 where it is none of that.
func (s *scan) oneMonth(i int, lean Lean) (days Range, n int, why Reason) {
	at := s.passWeekday(i)
	day, used := s.bareDay(at)
	to := s.phrase(at+used, s.Words.To)
	if used == 0 || to == 0 {
		return days, 0, OK
	}
	second := at + used + to
	at = s.passWeekday(second)
	t, used, why := s.calendar(at)
	at += used
	if why != OK || t.month == 0 {
		return days, 0, OK
	}
	first, last := t, t
	first.day, first.weekday, last.weekday = day, s.weekday(i), s.weekday(second)
	if days.From, why = s.resolve(first, s.Today, lean); why == OK {
		days.To, why = s.resolve(last, days.From, Ahead)
		days = s.begun(days, first, last, lean)
	}
	if why == OK && days.To < days.From {
		why = Impossible
	}
	return days, at - i, why
}

// underWay is how many days in a row are at most that may have begun already.
const underWay = 62

// begun takes days in a row without a year for those of a year earlier where today is
// among these and they are not many: 1 to 14 january, typed on the fifth.
func (s *scan) begun(days Range, first, last term, lean Lean) Range {
	if lean != Ahead || first.month == 0 || last.month == 0 || first.year != 0 || last.year != 0 {
		return days
	}
	from, bad := known(days.From.Time().Year()-1, first.month, first.day)
	if bad != OK || !agrees(first.weekday, from) {
		return days
	}
	to, bad := s.resolve(last, from, Ahead)
	if bad == OK && from <= s.Today && s.Today <= to && to < from.Add(underWay) {
		return Range{from, to}
	}
	return days
}

// passWeekday passes over the name of a day that only goes with a date.
func (s *scan) passWeekday(i int) int {
	if s.weekday(i) < 0 {
		return i
	}
	return s.skip(s.skip(i+1, "."), ",")
}

// end reads "to" and the last day, and how many tokens that took; without it the
// last day is the first.
func (s *scan) end(i int, t term, first *shop.Date, lean Lean) (last shop.Date, n int) {
	to := s.phrase(i, s.Words.To)
	if to == 0 {
		return *first, 0
	}
	u, used, why := s.lastTerm(i+to, t)
	if why == OK {
		last, why = s.resolve(u, *first, Ahead)
	}
	if why != OK || last < *first {
		return *first, 0
	}
	days := s.begun(Range{*first, last}, t, u, lean)
	*first = days.From
	return days.To, to + used
}

// lastTerm reads the day behind "to"; one without its month is of the first day's.
func (s *scan) lastTerm(i int, t term) (u term, n int, why Reason) {
	at := s.passWeekday(i)
	day, more := s.bareDay(at)
	if _, _, dated := s.calendar(at); dated == OK || more == 0 || t.month == 0 && !s.Alone {
		return s.term(i)
	}
	t.weekday, t.day = s.weekday(i), day
	return t, at + more - i, OK
}
