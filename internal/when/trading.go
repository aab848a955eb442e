package when

import (
	"regexp"
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

	// Since is the first day from which on the hours are for good; empty: at once.
	Since shop.Date

	// From and To are the days of a part of every year, MM-DD; empty: all of it.
	From, To string
}

// clockSigns stand behind a time in figures: 08.00h, 20:00 Uhr.
var clockSigns = regexp.MustCompile(`(?i)(\d[.:]\d\d)\s?(?:h|hrs|uhr)\b`)

// noons are am and pm with full stops.
var noons = regexp.MustCompile(`(?i)\b([ap])\.\s?m\b\.?`)

// plainly writes times so that there is one way to read them.
func plainly(text string) string {
	return spokenHours(noons.ReplaceAllString(clockSigns.ReplaceAllString(text, "$1 "), "${1}m"))
}

// Trading reads hours of a shop in the ways people say them: 9-5, mon-fri 9-18 and sat
// 10-14, 7-13 and 15-19, 9-18 on weekdays, 24/7, 9-18 except sunday, from 1 june to 31
// august 8-22. Where no day is named every day is meant. A day named twice is Ambiguous.
func (r Reader) Trading(text string) (Trading, Reason) {
	s := r.scan(plainly(text))
	t := trading{scan: s}
	i := t.season()
	if i == 0 {
		t.seasonWithin()
		t.sinceLast()
	}
	t.daysLast = t.endsWithDays()
	for first := true; first || !s.done(i); first = false {
		n, why := t.item(i)
		if why != OK {
			return Trading{}, why
		}
		i = s.skip(i+n, ",;/|")
		i += s.phrase(i, s.Words.And)
	}
	return t.said, OK
}

// trading is a text about hours under way.
type trading struct {
	*scan
	said     Trading
	last     *shop.Hours // the hours that were said last
	loose    [7]bool     // days that have their hours without being named: 7-21, sat from 8
	among    [7]int      // how many days were named together with one
	daysLast bool        // hours come before their days: 8-18 weekdays 9-13 saturdays
	sure     bool        // the end that was said last says which half of the day it is in
}

// season reads the days of a year that hours are for, and how many tokens they took: months,
// or days one of which names its month, since 9-5 is none.
func (t *trading) season() int {
	if n := t.since(0); n > 0 && !t.done(n) {
		return n
	}
	i := t.passOpen(0)
	if n := t.months(0); n > 0 && !t.done(n) {
		return t.skip(n, ":,;")
	}
	days, rest, why := t.Days(t.rest(i), Ahead)
	if why != OK || days.From == days.To || rest == "" {
		return 0
	}
	all := len(lex(rest))
	end := len(t.toks) - all
	for ; end > 0 && t.rest(end) != rest; end-- {
	}
	dots := 0
	dated := slices.ContainsFunc(t.toks[i:end], func(k token) bool {
		if k.text == "." || k.text == "/" {
			dots++
		}
		return nameIn(t.Words.Months, k.text) >= 0
	})
	if !dated && dots < dotsOfDays {
		return 0
	}
	t.said.From, t.said.To = string(days.From[5:]), string(days.To[5:])
	return t.skip(end, ":,;")
}

// since reads the day from which on hours are for good, behind words like from, and how many
// tokens it took: from 1 february on, from february, starting monday.
func (t *trading) since(i int) int {
	start := i
	n := t.phrase(i, t.Words.Since)
	for ; n == 0 && t.phrase(i, t.Words.Open) > 0; n = t.phrase(i, t.Words.Since) {
		i += t.phrase(i, t.Words.Open)
	}
	if n == 0 {
		return 0
	}
	i += n
	day, end := t.firstDay(i)
	if end == 0 {
		return 0
	}
	end += t.phrase(end, t.Words.Onward)
	if day > t.Today {
		t.said.Since = day
	}
	return t.skip(end, ":,;") - start
}

// firstDay reads one day that is named by a word, or the first one of a month, and where it
// ends; 0 for none.
func (t *trading) firstDay(i int) (shop.Date, int) {
	if m := nameIn(t.Words.Months, t.at(i).text); m >= 0 && t.phrase(i+1, t.Words.To) == 0 {
		if n := t.figure(i+1, 2); n < 0 || t.phrase(i+2, t.Words.To) > 0 || t.follows(i+2, sign) {
			year := t.Today.Time().Year()
			first := Month{Year: year, Month: time.Month(m + 1)}.First()
			if first < t.Today {
				first = Month{Year: year + 1, Month: time.Month(m + 1)}.First()
			}
			return first, i + 1
		}
	}
	days, rest, why := t.Days(t.rest(i), Ahead)
	if why != OK || days.From != days.To {
		return "", 0
	}
	end := len(t.toks)
	if rest != "" {
		for end -= len(lex(rest)); end > i && t.rest(end) != rest; end-- {
		}
	}
	if end <= i || t.phrase(end, t.Words.To) > 0 {
		return "", 0
	}
	named := slices.ContainsFunc(t.toks[i:end], func(k token) bool {
		return k.kind == word && len(k.text) >= leastLetters
	})
	if !named {
		return "", 0 // from 8
	}
	return days.From, end
}

// sinceLast reads such a day that stands last and leaves it out: mon-sat 8-20 from 1 february.
func (t *trading) sinceLast() {
	for i := 1; i < len(t.toks); i++ {
		if t.phrase(i, t.Words.Since) == 0 {
			continue
		}
		was := t.said.Since
		if n := t.since(i); n > 0 && t.done(i+n) {
			t.toks = slices.Clone(t.toks[:i])
			return
		}
		t.said.Since = was
	}
}

// dotsOfDays is how many stand in two days written in figures: 1.6.-31.8.
const dotsOfDays = 4

// months reads whole months: in july, june to august, july and august.
func (t *trading) months(i int) int {
	i += t.phrase(i, t.Words.During)
	month := func(i int) int { return nameIn(t.Words.Months, t.at(i).text) + 1 }
	from := month(i)
	if from == 0 || t.figure(i+1, 2) >= 0 && t.phrase(i+2, t.Words.To) == 0 {
		return 0 // december 24 is a day
	}
	i++
	to := from
	if n := max(t.phrase(i, t.Words.To), t.phrase(i, t.Words.And)); n > 0 && month(i+n) > 0 {
		to, i = month(i+n), i+n+1
	}
	year := t.Today.Time().Year()
	first, last := Month{Year: year, Month: time.Month(from)}, Month{Year: year, Month: time.Month(to)}
	t.said.From, t.said.To = string(first.First()[5:]), string(last.Last()[5:])
	if t.said.To == "02-28" {
		t.said.To = "02-29"
	}
	return i
}

// seasonWithin reads months that stand within a text and leaves them out: sundays in december
// 12 to 17.
func (t *trading) seasonWithin() {
	for i := 1; i < len(t.toks); i++ {
		if t.phrase(i, t.Words.During) == 0 || t.phrase(i, t.Words.Since) > 0 {
			continue
		}
		if n := t.months(i); n > 0 {
			t.toks = slices.Delete(slices.Clone(t.toks), i, n)
			return
		}
	}
}

// endsWithDays reports whether a text begins with hours and ends with days.
func (t *trading) endsWithDays() bool {
	if _, n := t.days(t.passOpen(0)); n > 0 {
		return false
	}
	if h, _, _, why := t.open(t.passOpen(0)); why != OK || h == (shop.Hours{}) {
		return false
	}
	for i := range t.toks {
		if _, n := t.days(i); n > 0 && t.done(i+n) {
			return true
		}
	}
	return false
}

// item reads days and their hours, in either order, and how many tokens they took.
func (t *trading) item(i int) (n int, why Reason) {
	at := t.passOpen(i)
	if end, why := t.except(at); why == OK && end > at { // not on sundays
		return end - i, OK
	}
	days, used := t.days(at)
	shut, more := t.without(days, at+used)
	at = t.skip(at+used+more, ":,")
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
	unnamed := days == nil
	if unnamed {
		days = t.others()
	}
	days = slices.DeleteFunc(slices.Clone(days), func(d time.Weekday) bool { return slices.Contains(shut, d) })
	if !t.lay(shut, shop.Hours{}, shop.Hours{}) && len(shut) > 0 {
		return 0, Ambiguous
	}
	if why = t.layHours(days, h, literal); why != OK {
		return 0, why
	}
	for _, d := range days {
		t.loose[d] = unnamed
	}
	at, why = t.except(at)
	return at - i, why
}

// without reads days behind "except" that stand before the hours: every day except sunday 8-20.
func (t *trading) without(days []time.Weekday, i int) (shut []time.Weekday, n int) {
	n = t.phrase(i, t.Words.Except)
	if n == 0 || len(days) == 0 {
		return nil, 0
	}
	shut, used := t.days(i + n)
	if used == 0 {
		return nil, 0
	}
	return shut, n + used
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
	since := i > 0 && slices.Contains(t.Words.Since, t.at(i-1).text)
	i += t.phrase(i, t.Words.Every)
	from := t.shortDay(i)
	if from < 0 {
		return nil, 0
	}
	many := t.weekday(i) < 0
	i++
	if to := t.phrase(i, t.Words.To); to > 0 && t.shortDay(i+to) >= 0 {
		return between(nil, from, t.shortDay(i+to)), i + to + 1 - i0
	}
	if since && !many {
		return nil, 0 // from monday on
	}
	return []time.Weekday{time.Weekday(from)}, i - i0
}

// shortDay reads a day of the week, also of two letters, as on a shop's door: mo-fr.
func (t *trading) shortDay(i int) int {
	if day := t.anyWeekday(i); day >= 0 {
		return day
	}
	text, next := t.at(i).text, t.at(i+1)
	if slices.Contains(t.Words.Open, text) && next.kind == word && t.shortDay(i+1) < 0 {
		return -1 // we close at 7
	}
	found := -1
	for day, name := range t.Words.Weekdays {
		if len(text) == 2 && len(name) > 2 && name[:2] == text {
			if found >= 0 {
				return -1
			}
			found = day
		}
	}
	return found
}

// daysAfter reads days behind their hours, as far as they do not begin what comes next.
func (t *trading) daysAfter(i int) (days []time.Weekday, n int) {
	if t.phrase(i, t.Words.Else) > 0 {
		return t.afterThem(i, t.others(), t.phrase(i, t.Words.Else))
	}
	for at := i; ; {
		list, used := t.named(at)
		if used == 0 {
			return days, n
		}
		all, took := t.afterThem(i, append(slices.Clone(days), list...), at+used-i)
		if took == 0 {
			return days, n
		}
		days, n = all, took
		at = t.join(at + used)
	}
}

// afterThem gives days unless hours follow them, which they would belong to.
func (t *trading) afterThem(i int, days []time.Weekday, n int) ([]time.Weekday, int) {
	if next := t.skip(i+n, ":"); next == i+n && !t.daysLast {
		if _, _, _, why := t.open(t.passOpen(next)); why == OK {
			return nil, 0
		}
	}
	return days, n
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

// except reads days behind "except", which are closed or have the hours behind them.
func (t *trading) except(i int) (int, Reason) {
	n := t.phrase(i, t.Words.Except)
	if n == 0 {
		return i, OK
	}
	days, used := t.days(i + n)
	if used == 0 {
		return i, Unknown
	}
	i += n + used
	h, literal, used, why := t.open(t.passOpen(i))
	if why != OK {
		h, literal = shop.Hours{}, shop.Hours{}
	} else {
		i = t.passOpen(i) + used
	}
	for _, d := range days {
		t.said.Week[d], t.said.Literal[d], t.said.Named[d] = h, literal, true
	}
	return i, OK
}

// lay gives days their hours; false where one had some already, but as one of more days: mon-fri 9-18,
// wed 9-13.
func (t *trading) lay(days []time.Weekday, h, literal shop.Hours) bool {
	for _, d := range days {
		if t.said.Named[d] && !t.loose[d] && len(days) >= t.among[d] {
			return false
		}
		t.among[d] = len(days)
		t.said.Week[d], t.said.Literal[d], t.said.Named[d] = h, literal, true
	}
	return len(days) > 0
}
