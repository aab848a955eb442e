package when

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

// Hours reads a span of the clock and nothing else: 8-20, 8:00 to 20:30, 8am-6pm.
// A close at or before the opening is the next day's; it opens before 24:00.
func (r Reader) Hours(text string) (shop.Hours, Reason) {
	s := r.scan(text)
	h, n, why := s.span(0)
	if why == OK && !s.done(n) {
		why = Unknown
	}
	if why != OK {
		return shop.Hours{}, why
	}
	return h, OK
}

// span reads hours at a place, and how many tokens they took.
func (s *scan) span(i int) (h shop.Hours, n int, why Reason) {
	open, n, why := s.clock(i)
	if why != OK {
		return h, 0, why
	}
	to := s.phrase(i+n, s.Words.To)
	if to == 0 {
		return h, 0, Unknown
	}
	end, more, why := s.clock(i + n + to)
	if why != OK {
		return h, 0, why
	}
	if open >= dayMinutes {
		return h, 0, Impossible
	}
	if s.isYear(i) && s.figure(i+n+to, 2) >= 0 {
		return h, 0, Ambiguous // 2026-11 is a month as well
	}
	return shop.Hours{Open: open, Close: end}, n + to + more, OK
}

// Weekdays reads the days of the week at the beginning of a text, and what
// follows: mon-fri, mon, wed and fri, sundays, every day. Each stands once, as
// they were named. On refusal rest is the text.
func (r Reader) Weekdays(text string) (days []time.Weekday, rest string, why Reason) {
	s := r.scan(text)
	days, n, why := s.weekdays(0)
	if why != OK {
		return nil, text, why
	}
	return days, s.rest(n), OK
}

// EachWeek reads days that are meant every week, and nothing else: wednesdays, every monday. A day by
// its name alone is the next one.
func (r Reader) EachWeek(text string) ([]time.Weekday, bool) {
	t := trading{scan: r.scan(text)}
	i := t.phrase(0, t.Words.On)
	days, n := t.days(i)
	each := false
	for at := range t.toks {
		part := t.phrase(at, t.Words.Weekend) > 0 || t.phrase(at, t.Words.Workdays) > 0
		each = each || part && strings.HasSuffix(t.at(at).text, "s") ||
			t.phrase(at, t.Words.Every) > 0 || t.weekday(at) < 0 && t.anyWeekday(at) >= 0
	}
	return days, each && n > 0 && len(days) < week && t.done(i+n)
}

// week is how many days a week has.
const week = 7

// weekdays reads days of the week at a place, and how many tokens they took.
func (s *scan) weekdays(i int) (days []time.Weekday, n int, why Reason) {
	if n := s.phrase(i, s.Words.EveryDay); n > 0 {
		return everyDay(), n, OK
	}
	at := i
	for at < len(s.toks) {
		from := s.anyWeekday(at)
		if from < 0 {
			break
		}
		at++
		to := from
		if n := s.phrase(at, s.Words.To); n > 0 {
			if to = s.anyWeekday(at + n); to < 0 {
				return nil, 0, Unknown
			}
			at += n + 1
		}
		days = between(days, from, to)
		at = s.join(at)
	}
	if len(days) == 0 {
		return nil, 0, Unknown
	}
	return days, at - i, OK
}

// between adds the days of the week from one to another, each once.
func between(days []time.Weekday, from, to int) []time.Weekday {
	for n := range (to-from+week)%week + 1 {
		if d := time.Weekday((from + n) % week); !slices.Contains(days, d) {
			days = append(days, d)
		}
	}
	return days
}

// join passes over what stands between two days.
func (s *scan) join(i int) int {
	i = s.skip(s.skip(i, "."), ",/")
	return i + s.phrase(i, s.Words.And)
}

// anyWeekday reads the name of a day of the week, also of many: sundays.
func (s *scan) anyWeekday(i int) int {
	if day := s.weekday(i); day >= 0 {
		return day
	}
	return nameIn(s.Words.Weekdays, strings.TrimSuffix(s.at(i).text, "s"))
}

func everyDay() []time.Weekday { return between(nil, 0, week-1) }

// Week reads the trading hours of a week, Sunday first: 7-21 is every day, mon-fri
// 7-21, sat 8-20, sun closed says it by day. Days that are not named are closed. A
// day named twice, and one that opens and closes at the same time, is Ambiguous.
func (r Reader) Week(text string) (hours [7]shop.Hours, why Reason) {
	s := r.scan(text)
	var seen [week]bool
	for i := 0; i == 0 || !s.done(i); {
		days, n, why := s.weekdays(i)
		if why != OK && i == 0 {
			days, n = everyDay(), 0
		} else if why != OK {
			return [7]shop.Hours{}, why
		}
		i += n
		h, n, why := s.trading(i)
		if why != OK {
			return [7]shop.Hours{}, why
		}
		for _, d := range days {
			if seen[d] {
				return [7]shop.Hours{}, Ambiguous
			}
			hours[d], seen[d] = h, true
		}
		i = s.skip(i+n, ",;")
	}
	return hours, OK
}

// trading reads the hours of a day, or that it is closed.
func (s *scan) trading(i int) (h shop.Hours, n int, why Reason) {
	if n := s.phrase(i, s.Words.Closed); n > 0 {
		return h, n, OK
	}
	if h, n, why = s.span(i); why == OK && h.Open == h.Close {
		why = Ambiguous
	}
	return h, n, why
}
