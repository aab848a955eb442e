package when

import "shopfloat/internal/shop"

// Moment is a time of a day that has been.
type Moment struct {
	Day     shop.Date
	Minutes int // after midnight, less than a day
	// Every is how many days earlier it is when its time has not come yet: 1 where
	// no day was named, 7 for a day of the week, 0 where only one day can be meant.
	Every int
}

// Moment reads a day and a time, and nothing else: 06:40, yesterday at 18:30, tue
// 13:00, 24.11. 06:40, 24-11 6.40, Tue 24 Nov, 06:40. A day without a year is read
// as Lately.
func (r Reader) Moment(text string) (Moment, Reason) {
	s := r.scan(text)
	s.dashes = true
	m, n, why := s.dayOf()
	if why != OK {
		n = 0
	}
	minutes, late := s.time(n)
	if why == OK && late == OK {
		m.Minutes = minutes
		return m, OK
	}
	minutes, bare := s.time(0)
	if why == OK && s.done(n) {
		if bare == OK || bare == Ambiguous {
			return Moment{}, Ambiguous // 9.05 is a day as well
		}
		return Moment{}, Unknown // a day alone
	}
	if bare == OK {
		return Moment{Day: s.Today, Minutes: minutes, Every: 1}, OK
	}
	if why == OK {
		return Moment{}, late
	}
	if why == Unknown {
		return Moment{}, bare
	}
	return Moment{}, why
}

// dayOf reads the day a moment begins with.
func (s *scan) dayOf() (m Moment, n int, why Reason) {
	t, n, why := s.term(0)
	if why != OK {
		return m, 0, why
	}
	if t.weekday >= 0 && t.month == 0 && !t.last {
		m.Every = week
	}
	m.Day, why = s.resolve(t, s.Today, Lately)
	return m, n, why
}

// time reads a time of day which ends the text.
func (s *scan) time(i int) (minutes int, why Reason) {
	i = s.skip(s.skip(i, "."), ",")
	i += s.phrase(i, s.Words.At)
	minutes, n, why := s.clock(i)
	if why != OK {
		return 0, why
	}
	if !s.done(i + n) {
		return 0, Unknown
	}
	if minutes >= dayMinutes {
		return 0, Impossible
	}
	return minutes, OK
}
