package when

import (
	"slices"
	"time"
)

// SomeDays finds the days that a sentence names, in whatever place of it, and gives the rest
// with them left out: closed on 24, 25 and 26 december for a wedding. Days that follow one
// another are one range. The next day of a name is meant. Days without an end, from friday,
// are Ambiguous; where two places name days, or none does, it is Unknown.
func (r Reader) SomeDays(text string) (days []Range, rest string, why Reason) {
	s := r.scan(text)
	at, best, why := 0, 0, Unknown
	for i := range s.toks {
		switch list, n, bad := s.someDays(i); {
		case n > best && bad != Unknown: // days without an end, too
			days, at, best, why = list, i, n, bad
		case best == 0 && bad == Impossible:
			why = bad
		}
	}
	if why != OK {
		return nil, text, why
	}
	for i := range s.toks {
		if i < at || i >= at+best {
			if _, n, bad := s.someDays(i); bad == OK && (i+n <= at || i >= at+best) {
				return nil, text, Unknown
			}
		}
	}
	from, to := 0, s.toks[at+best-1].end
	if at > 0 {
		from = s.toks[at-1].end
	}
	return merged(days), s.src[:from] + " " + s.src[to:], OK
}

// merged puts ranges in order, those that touch as one.
func merged(list []Range) (days []Range) {
	slices.SortFunc(list, func(a, b Range) int { return int(a.From.Time().Sub(b.From.Time()) / time.Hour) })
	for _, r := range list {
		if n := len(days); n > 0 && r.From <= days[n-1].To.Add(1) {
			days[n-1].To = max(days[n-1].To, r.To)
			continue
		}
		days = append(days, r)
	}
	return days
}

// someDays reads days at a place, one after the other, and how many tokens they took.
func (s *scan) someDays(i int) (days []Range, n int, why Reason) {
	for at := i; ; {
		list, used, bad := s.oneOfMany(at)
		if bad != OK {
			if n == 0 {
				return nil, used, bad
			}
			return days, n, OK
		}
		for last := len(days) - 1; last >= 0 && s.weekday(at) >= 0 && used == 1 && list[0].To < days[last].From; {
			list[0] = Range{list[0].From.Add(week), list[0].To.Add(week)} // monday and tuesday, on a Tuesday
		}
		days = append(days, list...)
		n = at + used - i
		if at = s.join(at + used); at == i+n {
			return days, n, OK
		}
	}
}

// oneOfMany reads days as one names them, and how many tokens they took.
func (s *scan) oneOfMany(i int) (days []Range, n int, why Reason) {
	i0 := i
	for {
		if days, n = s.ofOneMonth(i); n > 0 {
			return days, i + n - i0, OK
		}
		for _, read := range []func(int) (Range, int){
			s.feastDays, s.weekend, s.weekAfter, s.restOfWeek, s.counted, s.wholeMonth,
		} {
			if d, n := read(i); n > 0 {
				return []Range{d}, i + n - i0, OK
			}
		}
		used := s.phrase(i, s.Words.Around)
		if used == 0 {
			break
		}
		i += used
	}
	since := s.phrase(i, s.Words.Since)
	d, n, why := s.inARow(i+since, Ahead)
	if _, ordinal := s.ordinal(i + since); why == OK && ordinal == n && s.at(i+since).kind == word {
		return nil, 0, Unknown // a second person
	}
	if _, used, dated := s.calendar(s.passWeekday(i + since + n)); why == Ambiguous && dated == OK {
		return nil, n + 1 + used, why // a weekday that the date beside it is not on
	}
	if why != OK {
		return nil, 0, why
	}
	i += since + n
	if d.From == d.To {
		if long, used := s.counted(i); used > 0 {
			d.To, i, since = d.From.Add(int(long.To.Time().Sub(long.From.Time())/(24*time.Hour))), i+used, 0
		}
	}
	if since > 0 && d.From == d.To {
		return nil, i - i0, Ambiguous
	}
	return []Range{d}, i - i0, OK
}

// ofOneMonth reads several days of a month that stands once: 24, 25 and 26 december, december
// 24 and 31.
func (s *scan) ofOneMonth(i int) (days []Range, n int) {
	at := s.lead(i, Ahead)
	month, year := 0, 0
	if m, used := s.month(at); used > 0 {
		month, at = m, at+used+s.phrase(at+used, s.Words.The)
	}
	var ends [][2]int
	for {
		first, used := s.bareDay(s.passWeekday(at))
		if used == 0 {
			break
		}
		at = s.passWeekday(at) + used
		last := first
		if to := s.phrase(at, s.Words.To); to > 0 {
			if day, used := s.bareDay(s.passWeekday(at + to)); used > 0 {
				last, at = day, s.passWeekday(at+to)+used
			}
		}
		ends, n = append(ends, [2]int{first, last}), at-i
		next := s.join(at)
		if next == at {
			break
		}
		at = next + s.phrase(next, s.Words.The)
	}
	at = i + n
	if month == 0 {
		at += s.phrase(at, s.Words.Of)
		m, used := s.month(at)
		month, at = m, at+used
	}
	if len(ends) < 2 || month == 0 {
		return nil, 0
	}
	year, used := s.yearAfter(at)
	for _, e := range ends {
		from, bad := s.resolve(term{weekday: -1, day: e[0], month: month, year: year}, s.Today, Ahead)
		to, worse := s.resolve(term{weekday: -1, day: e[1], month: month, year: year}, from, Ahead)
		if bad != OK || worse != OK || to < from {
			return nil, 0
		}
		days = append(days, Range{from, to})
	}
	return days, at + used - i
}

// weekend reads the next weekend, or the one that is, and the one of next week.
func (s *scan) weekend(i int) (d Range, n int) {
	saturday := s.Today.Add((week + int(time.Saturday) - int(s.Today.Weekday())) % week)
	if s.Today.Weekday() == time.Sunday {
		saturday = s.Today.Add(-1)
	}
	if n = s.phrase(i, s.Words.OneWeekend); n > 0 {
		return Range{saturday, saturday.Add(1)}, n
	}
	next := s.phrase(i, s.Words.Next)
	if n = s.phrase(i+next, s.Words.OneWeekend); next > 0 && n > 0 {
		monday := s.Today.Add(week - daysBetween(int(time.Monday), s.Today))
		return Range{monday.Add(5), monday.Add(6)}, next + n
	}
	return d, 0
}

// weekAfter reads the week after next.
func (s *scan) weekAfter(i int) (d Range, n int) {
	monday := s.Today.Add(2*week - daysBetween(int(time.Monday), s.Today))
	return Range{monday, monday.Add(week - 1)}, s.phrase(i, s.Words.WeekAfter)
}

// restOfWeek reads the days from today to Sunday: all week.
func (s *scan) restOfWeek(i int) (d Range, n int) {
	return Range{s.Today, s.Today.Add(week - 1 - daysBetween(int(time.Monday), s.Today))},
		s.phrase(i, s.Words.AllWeek)
}

// manyDays bounds days that are counted and not named.
const manyDays = 100

// counted reads days by their number, from today or another day on: for three days, for two
// weeks from monday.
func (s *scan) counted(i int) (d Range, n int) {
	at := i + s.phrase(i, s.Words.ForHowLong)
	many := s.howMany(at)
	unit := slices.Index(s.Words.Units, s.at(at+1).text)
	if many <= 0 || many >= manyDays || unit < 0 || s.phrase(at+1, s.Words.Ago) > 0 ||
		s.phrase(at+1, s.Words.WeeksAgo) > 0 {
		return d, 0
	}
	if unit/2 == 1 { // day, days, week, weeks, night, nights
		many *= week
	}
	at += 2
	d.From = s.Today
	if since := s.phrase(at, s.Words.Since); since > 0 {
		if t, used, why := s.term(at + since); why == OK {
			if from, why := s.resolve(t, s.Today, Ahead); why == OK {
				d.From, at = from, at+since+used
			}
		}
	}
	d.To = d.From.Add(many - 1)
	return d, at - i
}

// howMany reads a number of days or weeks: 3, three, a.
func (s *scan) howMany(i int) int {
	if at := slices.Index(s.Words.Few, s.at(i).text); at >= 0 {
		return at + 1
	}
	if s.at(i).text == "a" {
		return 1
	}
	return s.figure(i, 2)
}

// wholeMonth reads a whole month behind what says so, as far as it is to come: in august.
func (s *scan) wholeMonth(i int) (d Range, n int) {
	around := s.phrase(i, s.Words.Around)
	m, used := s.month(i + around)
	if around == 0 || used == 0 || s.figure(i+around+used, 2) >= 0 {
		return d, 0
	}
	today := s.Today.Time()
	year, more := s.yearAfter(i + around + used)
	if more == 0 {
		year = today.Year()
		if time.Month(m) < today.Month() {
			year++
		}
	}
	whole := Month{year, time.Month(m)}
	return Range{max(whole.First(), s.Today), whole.Last()}, around + used + more
}
