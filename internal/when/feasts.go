package when

import (
	"fmt"
	"strings"

	"shopfloat/internal/dayrule"
	"shopfloat/internal/shop"
)

// ButFeasts parts days of every year, MM-DD, on which it is otherwise off what stands before
// them: 24/7 except christmas day. Where a text says none it is given as it is.
func (r Reader) ButFeasts(text string) (before string, days []string) {
	s := r.scan(text)
	for i := 1; i < len(s.toks); i++ {
		n := s.phrase(i, s.Words.Except)
		if n == 0 {
			continue
		}
		at := i + n
		at += s.phrase(at, s.Words.Closed)
		for days = nil; ; {
			at += s.phrase(at, s.Words.On)
			t, n, why := s.term(at)
			if why != OK || t.month == 0 || t.year != 0 {
				break
			}
			days = append(days, fmt.Sprintf("%02d-%02d", t.month, t.day))
			if at += n; s.done(at) {
				return s.src[:s.toks[i-1].end], days
			}
			at = s.join(at)
		}
	}
	return text, nil
}

// feast reads a day of the year that has a name, as christmas day.
func (s *scan) feast(i int) (t term, n int) {
	for _, f := range s.Words.Feasts {
		date, name, _ := strings.Cut(f, " ")
		if used := s.phrase(i, []string{name}); used > n {
			t, n = feastDay(date), used
		}
	}
	if n > 0 {
		year, more := s.yearAfter(i + n)
		t.year, n = year, n+more
	}
	return t, n
}

// feastDay is a day of a catalogue's list: 12-25, or e-2, two days before Easter Sunday.
func feastDay(date string) term {
	if after, is := strings.CutPrefix(date, "e"); is {
		return term{weekday: -1, easter: true, day: atoi(after)}
	}
	month, day, _ := strings.Cut(date, "-")
	return term{weekday: -1, month: atoi(month), day: atoi(day)}
}

// feastDays reads several days that have a name together: over easter is Good Friday to Easter Monday.
func (s *scan) feastDays(i int) (d Range, n int) {
	for _, f := range s.Words.FeastDays {
		from, rest, _ := strings.Cut(f, " ")
		to, name, _ := strings.Cut(rest, " ")
		used := s.phrase(i, []string{name})
		if used <= n {
			continue
		}
		first, last := feastDay(from), feastDay(to)
		year, more := s.yearAfter(i + used)
		first.year, last.year = year, year
		var why, bad Reason
		d.To, bad = s.resolve(last, s.Today, Ahead)
		if d.From, why = s.resolve(first, d.To, Back); why == OK && bad == OK {
			n = used + more
		}
	}
	if _, one := s.feast(i); one >= n {
		return d, 0 // easter monday
	}
	d.From = max(d.From, s.Today)
	return d, n
}

// byEaster finds a day that is so many days after Easter Sunday, of the year that is said, or seen in
// the direction of the lean.
func (s *scan) byEaster(t term, from shop.Date, lean Lean) shop.Date {
	of := func(year int) shop.Date {
		sunday := dayrule.Easter(year)
		if s.Orthodox {
			sunday = dayrule.Orthodox(year)
		}
		return shop.DateOf(sunday).Add(t.day)
	}
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

// orthodox are the countries most of whose shops keep the Easter of the eastern churches. Common
// knowledge, no source; what is read is read back with its dates.
const orthodox = "BG BY CY ET GE GR MD ME MK RO RS RU UA"

// KeepsOrthodox reports whether Easter is that of the eastern churches in a country.
func KeepsOrthodox(country string) bool { return country != "" && strings.Contains(orthodox, country) }
