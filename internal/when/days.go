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
	if n := s.phrase(0, s.Words.Until); n > 0 {
		if t, used, why := s.term(n); why == OK {
			to, why := s.resolve(t, s.Today, Ahead)
			if why != OK {
				return Range{}, text, why
			}
			return Range{s.Today, max(s.Today, to)}, s.rest(n + used), OK
		}
	}
	i := s.lead(0, lean)
	if days, n := s.week(i); n > 0 {
		return days, s.rest(i + n), OK
	}
	if days, n, why := s.oneMonth(i, lean); n > 0 {
		if why != OK {
			return Range{}, s.rest(i), why
		}
		return days, s.rest(i + n), OK
	}
	t, used, why := s.term(i)
	if n := 0; lean != Ahead && (why == Unknown || why == Ambiguous && s.figure(i+2, 2) > monthsInYear) {
		if t, n = s.alone(i); n > 0 {
			used, why = n, OK
		}
	}
	if why != OK {
		return Range{}, s.rest(i), why
	}
	first, why := s.resolve(t, s.Today, lean)
	if why != OK {
		return Range{}, s.rest(i), why
	}
	i += used
	last, more := s.end(i, t, first)
	return Range{first, last}, s.rest(i + more), OK
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
	}
	if why == OK && days.To < days.From {
		why = Impossible
	}
	return days, at - i, why
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
func (s *scan) end(i int, t term, first shop.Date) (last shop.Date, n int) {
	to := s.phrase(i, s.Words.To)
	if to == 0 {
		return first, 0
	}
	u, used, why := s.lastTerm(i+to, t)
	if why == OK {
		last, why = s.resolve(u, first, Ahead)
	}
	if why != OK || last < first {
		return first, 0
	}
	return last, to + used
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
