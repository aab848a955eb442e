package when

import (
	"strconv"
	"time"

	"shopfloat/internal/shop"
)

// term is a day as it is named, before it is known which one is meant.
type term struct {
	fixed            shop.Date // today, tomorrow, yesterday
	weekday          int       // a day of the week, alone or beside a date; else -1
	last, next       bool      // last friday, next friday
	end              bool      // the last day of its month
	easter           bool      // day is how many days after Easter Sunday it is
	day, month, year int       // 0 is not said
}

// Years that a name of a month may be followed by; other figures are none.
const firstYear, lastYear = 2000, 2099

// term reads a day at a place, and how many tokens it took.
func (s *scan) term(i int) (t term, n int, why Reason) {
	for _, x := range []struct {
		words []string
		day   shop.Date
	}{{s.Words.Today, s.Today}, {s.Words.Tomorrow, s.Today.Add(1)}, {s.Words.Yesterday, s.Today.Add(-1)},
		{s.Words.TwoAgo, s.Today.Add(-2)}, {s.Words.InTwo, s.Today.Add(2)}} {
		if n := s.phrase(i, x.words); n > 0 {
			return term{fixed: x.day, weekday: -1}, n, OK
		}
	}
	if day, n := s.ago(i); n > 0 {
		return term{fixed: day, weekday: -1}, n, OK
	}
	if t, n := s.endOf(i); n > 0 {
		return t, n, OK
	}
	if last := s.phrase(i, s.Words.Last); last > 0 {
		if day := s.weekday(i + last); day >= 0 {
			return term{weekday: day, last: true}, last + 1, OK
		}
		return t, 0, Unknown
	}
	if next := s.phrase(i, s.Words.Next); next > 0 {
		if day := s.weekday(i + next); day >= 0 {
			return term{weekday: day, next: true}, next + 1, OK
		}
		return t, 0, Unknown
	}
	i0 := i
	if this := s.phrase(i, s.Words.This); this > 0 && s.weekday(i+this) >= 0 {
		i += this
	}
	if t, n := s.feast(i); n > 0 {
		return t, n, OK
	}
	day := s.weekday(i)
	if day < 0 {
		if t, n, why := s.calendar(i); why != Unknown {
			return t, n, why
		}
		return s.ordinalDay(i)
	}
	if days, n := s.week(i + 1); n > 0 {
		return term{fixed: days.From.Add((day + week - 1) % week), weekday: -1}, i + 1 + n - i0, OK
	}
	next := s.skip(s.skip(i+1, "."), ",")
	if t, n, why := s.calendar(next); why == OK {
		t.weekday = day
		return t, next + n - i0, OK
	}
	return term{weekday: day}, i + 1 - i0, OK
}

// ago reads a day so long ago: 3 days ago, a week ago.
func (s *scan) ago(i int) (day shop.Date, n int) {
	many := s.figure(i, 3)
	for k, name := range s.Words.Few {
		if s.at(i).text == name {
			many = k + 1
		}
	}
	if s.at(i).text == "a" {
		many = 1
	}
	if many < 0 {
		return "", 0
	}
	if n = s.phrase(i+1, s.Words.Ago); n > 0 {
		return s.Today.Add(-many), n + 1
	}
	if n = s.phrase(i+1, s.Words.WeeksAgo); n > 0 {
		return s.Today.Add(-week * many), n + 1
	}
	return "", 0
}

// endOf reads the last day of a month: the end of november, end of last month.
func (s *scan) endOf(i int) (t term, n int) {
	n = s.phrase(i, s.Words.EndOf)
	if n == 0 {
		return t, 0
	}
	if last := s.phrase(i+n, s.Words.Last); last > 0 {
		if more := s.phrase(i+n+last, s.Words.Month); more > 0 {
			return term{fixed: s.Today.Add(-s.Today.Time().Day()), weekday: -1}, n + last + more
		}
	}
	month, used := s.month(i + n)
	if used == 0 {
		return t, 0
	}
	year, more := s.yearAfter(i + n + used)
	return term{weekday: -1, month: month, year: year, end: true}, n + used + more
}

// alone reads a number that is all of a text, or the first of two: 19, 19 to 21.
func (s *scan) alone(i int) (t term, n int) {
	day, n := s.bareDay(i)
	if !s.Alone || n == 0 {
		return t, 0
	}
	at := i + n
	if to := s.phrase(at, s.Words.To); to > 0 {
		if _, more := s.bareDay(at + to); more > 0 {
			at += to + more
		}
	}
	if !s.done(at) {
		return t, 0
	}
	return term{weekday: -1, day: day}, n
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s) // a catalogue's word list, which its test reads
	return n
}

// ordinalDay reads a day of a month that is not named: the 7th, the seventh.
func (s *scan) ordinalDay(i int) (t term, n int, why Reason) {
	day, n := s.ordinal(i)
	if n == 0 || s.runsOn(i+n) {
		return t, 0, Unknown
	}
	return term{weekday: -1, day: day}, n, OK
}

// ordinal reads 7th or seventh.
func (s *scan) ordinal(i int) (day, n int) {
	if day, n = s.dayOfMonth(i); n > 1 && s.at(i+1).kind == word {
		return day, n
	}
	day, n = 0, 0
	for d, name := range s.Words.Ordinals {
		if used := s.phrase(i, []string{name}); used > n {
			day, n = d+1, used
		}
	}
	return day, n
}

// weekday reads the name of a day of the week; -1 for none.
func (s *scan) weekday(i int) int { return nameIn(s.Words.Weekdays, s.at(i).text) }

// calendar reads a day of a month: in figures, 24 dec or dec 24.
func (s *scan) calendar(i int) (t term, n int, why Reason) {
	if t, n, why = s.figures(i); why != Unknown {
		return t, n, why
	}
	day, used := s.ordinal(i)
	if used == 0 {
		day, used = s.dayOfMonth(i)
	}
	if used > 0 {
		of := s.phrase(i+used, s.Words.Of)
		if month, more := s.month(i + used + of); more > 0 {
			more += of
			year, rest := s.yearAfter(i + used + more)
			return term{weekday: -1, day: day, month: month, year: year}, used + more + rest, OK
		}
		return t, 0, Unknown
	}
	month, used := s.month(i)
	if used == 0 {
		return t, 0, Unknown
	}
	used += s.phrase(i+used, s.Words.The) // october the 30th
	day, more := s.ordinal(i + used)
	if more == 0 {
		day, more = s.bareDay(i + used)
	}
	if more == 0 {
		return t, 0, Unknown
	}
	year, rest := s.yearAfter(i + used + more)
	return term{weekday: -1, day: day, month: month, year: year}, used + more + rest, OK
}

// figures reads 24/12, 24.12., 24-12-2026 or 2026-12-24.
func (s *scan) figures(i int) (t term, n int, why Reason) {
	a, sep, b := s.figure(i, 4), s.at(i+1).text, s.figure(i+2, 2)
	if a < 0 || b < 0 || !s.sticks(i+1, sep) || !s.at(i+2).glued || sep != "." && sep != "/" && sep != "-" {
		return t, 0, Unknown
	}
	t.weekday = -1
	long := len(s.at(i).text) == 4
	if s.sticks(i+3, sep) && s.follows(i+4, number) {
		return s.threeFigures(i, a, b, long)
	}
	if long || len(s.at(i).text) > 2 || s.runsOn(i+3) {
		return t, 0, Unknown
	}
	if sep == "-" && !s.dashes {
		return t, 0, Ambiguous
	}
	n = 3
	if sep == "." && s.sticks(i+3, ".") {
		n = 4
	}
	t.day, t.month, why = s.Order.dayMonth(a, b, sep)
	year, more := s.yearAfter(i + n)
	t.year = year
	return t, n + more, why
}

// threeFigures reads a day, month and year set apart by the same sign.
func (s *scan) threeFigures(i, a, b int, long bool) (t term, n int, why Reason) {
	t.weekday = -1
	c := s.figure(i+4, 4)
	lengths := [2]int{len(s.at(i).text), len(s.at(i + 4).text)}
	if s.runsOn(i+5) || c < 0 {
		return t, 0, Unknown
	}
	if long && lengths[1] <= 2 {
		t.year, t.month, t.day = a, b, c
		if a == 0 || !fits(c, b) {
			why = Impossible
		}
		return t, 5, why
	}
	if lengths[0] <= 2 && lengths[1] == 2 && s.at(i+1).text != "-" && s.Order != OrderUnknown {
		c += firstYear // 24.12.27
		lengths[1] = 4
	}
	if lengths[0] <= 2 && lengths[1] == 4 && c > 0 {
		t.year = c
		t.day, t.month, why = s.Order.dayMonth(a, b, s.at(i+1).text)
		return t, 5, why
	}
	return t, 0, Unknown
}

// runsOn reports whether a token continues a number: 24:30, 24th, 1.2.3.
func (s *scan) runsOn(i int) bool {
	t := s.at(i)
	if !t.glued {
		return false
	}
	return t.kind == word || t.text == ":" || t.text == "/" || t.text == "." && s.follows(i+1, number)
}

// dayOfMonth reads 24, 24th or 24. and how many tokens it took.
func (s *scan) dayOfMonth(i int) (day, n int) {
	day = s.figure(i, 2)
	if day < 1 || day > daysInMonth {
		return 0, 0
	}
	n = 1
	for _, end := range []string{"st", "nd", "rd", "th"} {
		if s.sticks(i+n, end) {
			n++
			break
		}
	}
	if s.sticks(i+n, ".") {
		n++
	}
	return day, n
}

// bareDay reads a day of a month that stands after it or without it.
func (s *scan) bareDay(i int) (day, n int) {
	day, n = s.dayOfMonth(i)
	if n == 0 {
		return 0, 0
	}
	if s.runsOn(i+n) || s.follows(i+n, number) {
		return 0, 0
	}
	return day, n
}

// month reads the name of a month, from 1, and how many tokens it took.
func (s *scan) month(i int) (month, n int) {
	m := nameIn(s.Words.Months, s.at(i).text)
	if m < 0 {
		return 0, 0
	}
	if s.sticks(i+1, ".") {
		return m + 1, 2
	}
	return m + 1, 1
}

// yearAfter reads a year behind a day and month, in figures or as last year, and how
// many tokens it took.
func (s *scan) yearAfter(i int) (year, n int) {
	at := s.skip(i, ",")
	for back, words := range [][]string{s.Words.This, s.Words.Last} {
		if which := s.phrase(at, words); which > 0 && s.phrase(at+which, s.Words.Year) > 0 {
			return s.Today.Time().Year() - back, at + which + s.phrase(at+which, s.Words.Year) - i
		}
	}
	if !s.isYear(at) || s.runsOn(at+1) {
		return 0, 0
	}
	return s.figure(at, 4), at + 1 - i
}

// isYear reports whether a token can be a year.
func (s *scan) isYear(i int) bool {
	year := s.figure(i, 4)
	return year >= firstYear && year <= lastYear
}

// resolve finds the day that a term stands for, seen from a day.
func (s *scan) resolve(t term, from shop.Date, lean Lean) (shop.Date, Reason) {
	if t.fixed != "" {
		return t.fixed, OK
	}
	if t.last {
		yesterday := s.Today.Add(-1)
		return yesterday.Add(-daysBetween(t.weekday, yesterday)), OK
	}
	if t.next {
		tomorrow := s.Today.Add(1)
		return tomorrow.Add((week - daysBetween(t.weekday, tomorrow)) % week), OK
	}
	if t.end {
		return lastOf(t, from, lean), OK
	}
	if t.easter {
		return s.byEaster(t, from, lean), OK
	}
	if t.month == 0 && t.day != 0 {
		return ofSomeMonth(t.day, from, lean)
	}
	if t.month == 0 {
		back := daysBetween(t.weekday, from)
		if lean == Ahead {
			return from.Add((week - back) % week), OK
		}
		return from.Add(-back), OK
	}
	d, why := yearless(t, from, lean)
	if t.year != 0 {
		d, why = known(t.year, t.month, t.day)
	}
	if why == OK && !agrees(t.weekday, d) {
		return "", Ambiguous
	}
	return d, why
}

// lastOf gives the last day of a month, seen in the direction of the lean.
func lastOf(t term, from shop.Date, lean Lean) shop.Date {
	of := func(year int) shop.Date { return Month{year, time.Month(t.month)}.Last() }
	this := from.Time().Year()
	switch d := of(this); {
	case t.year != 0:
		return of(t.year)
	case lean == Ahead && d < from:
		return of(this + 1)
	case lean != Ahead && d > from:
		return of(this - 1)
	default:
		return d
	}
}

// ofSomeMonth gives the day of that number, in this month or the next one that has
// it, seen in the direction of the lean.
func ofSomeMonth(day int, from shop.Date, lean Lean) (shop.Date, Reason) {
	first := from.Time().AddDate(0, 0, 1-from.Time().Day())
	for months := range 3 { // of two months in a row one has 31 days
		if lean != Ahead {
			months = -months
		}
		m := first.AddDate(0, months, 0)
		d, why := known(m.Year(), int(m.Month()), day)
		if why == OK && (lean == Ahead && d >= from || lean != Ahead && d <= from) {
			return d, OK
		}
	}
	return "", Impossible
}

// daysBetween is how many days a day of the week was before a date.
func daysBetween(weekday int, d shop.Date) int { return (int(d.Weekday()) - weekday + week) % week }

// agrees reports whether a date is on the day of the week beside it, if there is one.
func agrees(weekday int, d shop.Date) bool { return weekday < 0 || weekday == int(d.Weekday()) }

// known gives a day that there is.
func known(year, month, day int) (shop.Date, Reason) {
	d := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if d.Day() != day {
		return "", Impossible
	}
	return shop.DateOf(d), OK
}

// leapYears is how many years may lie between two 29ths of February.
const leapYears = 8

func yearless(t term, from shop.Date, lean Lean) (shop.Date, Reason) {
	this := from.Time().Year()
	if lean == Lately {
		before, why := known(this, t.month, t.day)
		if why == OK && before <= from {
			return before, OK
		}
		if d, ok := known(this-1, t.month, t.day); ok == OK && d >= from.Add(-LatelyDays) {
			return d, OK
		}
		return before, why
	}
	for ahead := 0; ahead <= leapYears; ahead++ {
		year := this + ahead
		if lean == Back {
			year = this - ahead
		}
		d, why := known(year, t.month, t.day)
		if why == OK && (lean == Ahead && d >= from || lean == Back && d <= from) {
			return d, OK
		}
	}
	return "", Impossible
}
