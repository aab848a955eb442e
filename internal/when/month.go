package when

import (
	"time"

	"shopfloat/internal/shop"
)

// Month is a month of a year.
type Month struct {
	Year  int
	Month time.Month
}

// First is its first day.
func (m Month) First() shop.Date {
	return shop.DateOf(time.Date(m.Year, m.Month, 1, 0, 0, 0, 0, time.UTC))
}

// Last is its last day.
func (m Month) Last() shop.Date {
	return shop.DateOf(time.Date(m.Year, m.Month+1, 0, 0, 0, 0, 0, time.UTC))
}

// Month reads a month and nothing else: november, nov 2025, last month, 2025-11, 11/2025,
// or the month, which is this one. Without a year it is the last or the next one
// of that name, this one included.
func (r Reader) Month(text string, lean Lean) (Month, Reason) {
	s := r.scan(text)
	today := s.Today.Time()
	i := s.lead(0, lean)
	for back, words := range [][]string{s.Words.This, s.Words.Last} {
		if n := s.phrase(i, words); n > 0 && s.phrase(i+n, s.Words.Month) > 0 {
			m := today.AddDate(0, -back, 1-today.Day())
			return s.whole(Month{m.Year(), m.Month()}, i+n+s.phrase(i+n, s.Words.Month))
		}
	}
	if n := s.phrase(i, s.Words.Month); n > 0 {
		if i = s.lead(i+n, lean); s.done(i) {
			return Month{today.Year(), today.Month()}, OK
		}
	}
	if s.sticks(i+1, "-") && s.follows(i+2, number) {
		return s.monthInFigures(i)
	}
	if t := s.at(i + 1); (t.text == "/" || t.text == ".") && s.isYear(i+2) && fits(1, s.figure(i, 2)) {
		return s.whole(Month{s.figure(i+2, 4), time.Month(s.figure(i, 2))}, i+3)
	}
	n, used := s.month(i)
	if used == 0 {
		return Month{}, Unknown
	}
	m := Month{today.Year(), time.Month(n)}
	year, more := s.yearAfter(i + used)
	if more > 0 {
		m.Year = year
	} else if lean == Ahead && m.Month < today.Month() {
		m.Year++
	} else if lean != Ahead && m.Month > today.Month() {
		m.Year--
	}
	return s.whole(m, i+used+more)
}

// monthInFigures reads 2025-11.
func (s *scan) monthInFigures(i int) (Month, Reason) {
	year, month := s.figure(i, 4), s.figure(i+2, 2)
	if len(s.at(i).text) != 4 || year < 0 || month < 0 {
		return Month{}, Unknown
	}
	if year == 0 || !fits(1, month) {
		return Month{}, Impossible
	}
	return s.whole(Month{year, time.Month(month)}, i+3)
}

// whole gives a month when nothing follows it.
func (s *scan) whole(m Month, i int) (Month, Reason) {
	if !s.done(i) {
		return Month{}, Unknown
	}
	return m, OK
}
