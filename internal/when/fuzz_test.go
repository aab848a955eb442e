package when_test

import (
	"strings"
	"testing"
	"unicode"

	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// seeds are what the table has for some forms.
func seeds(f *testing.F, forms ...string) {
	f.Helper()
	for _, x := range examples(f) {
		for _, form := range forms {
			if x.form == form {
				f.Add(x.typed)
			}
		}
	}
}

// cut takes what was left over off a text.
func cut(t *testing.T, text, rest string) string {
	t.Helper()
	at := strings.LastIndex(text, rest)
	if at < 0 {
		t.Fatalf("%q leaves %q, which does not stand there", text, rest)
	}
	return text[:at]
}

func isDate(d shop.Date) bool {
	_, err := shop.ParseDate(string(d))
	return err == nil
}

// Whatever is typed: days in order, and what is left over was not needed.
func FuzzDays(f *testing.F) {
	seeds(f, "ahead", "back", "day")
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		for _, lean := range leans {
			days, rest, why := r.Days(text, lean)
			if why != when.OK {
				if days != (when.Range{}) || (why != when.Unknown && rest == "") {
					t.Fatalf("%q is refused with %v %q", text, days, rest)
				}
				continue
			}
			if !isDate(days.From) || !isDate(days.To) || days.From > days.To {
				t.Fatalf("%q is %v", text, days)
			}
			if again, left, why := r.Days(cut(t, text, rest), lean); again != days || left != "" || why != when.OK {
				t.Fatalf("%q is %v with %q left over; without that %v %q %q", text, days, rest, again, left, why)
			}
			if loud, _, _ := r.Days(strings.ToUpper(text), lean); isASCII(text) && loud != days {
				t.Fatalf("%q is %v, in capitals %v", text, days, loud)
			}
		}
	})
}

func isASCII(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r > unicode.MaxASCII })
}

func FuzzMonth(f *testing.F) {
	seeds(f, "month", "month-ahead")
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		m, why := r.Month(text, when.Back)
		if why != when.OK && m != (when.Month{}) || why == when.OK && (!isDate(m.First()) || m.First() > m.Last()) {
			t.Fatalf("%q is %v %q", text, m, why)
		}
	})
}

func FuzzClock(f *testing.F) {
	seeds(f, "clock")
	f.Fuzz(func(t *testing.T, text string) {
		m, rest, why := when.Clock(text)
		if why != when.OK {
			if m != 0 || rest != text {
				t.Fatalf("%q is refused with %d %q", text, m, rest)
			}
			return
		}
		if m < 0 || m > 24*60 || !strings.ContainsFunc(text, unicode.IsDigit) {
			t.Fatalf("%q is %d", text, m)
		}
		if again, left, why := when.Clock(cut(t, text, rest)); again != m || left != "" || why != when.OK {
			t.Fatalf("%q is %d with %q left over; without that %d %q %q", text, m, rest, again, left, why)
		}
	})
}

func FuzzMoment(f *testing.F) {
	seeds(f, "moment")
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		m, why := r.Moment(text)
		sound := isDate(m.Day) && m.Minutes >= 0 && m.Minutes < 24*60
		if why != when.OK && m != (when.Moment{}) || why == when.OK && !sound {
			t.Fatalf("%q is %v %q", text, m, why)
		}
		if why == when.OK && !strings.ContainsFunc(text, unicode.IsDigit) {
			t.Fatalf("%q is %v without a figure", text, m)
		}
	})
}

func tradable(h shop.Hours) bool {
	return h.Open >= 0 && h.Open < 24*60 && h.Close >= 0 && h.Close <= 24*60
}

func FuzzHours(f *testing.F) {
	seeds(f, "hours")
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		h, why := r.Hours(text)
		if !tradable(h) || why != when.OK && h != (shop.Hours{}) {
			t.Fatalf("%q is %v %q", text, h, why)
		}
		week, weekly := r.Week("mon " + text)
		if why == when.OK && h.Open != h.Close && (weekly != when.OK || week[1] != h) {
			t.Fatalf("%q is %v, for Monday %v %q", text, h, week[1], weekly)
		}
	})
}

func FuzzWeekdays(f *testing.F) {
	seeds(f, "weekdays", "weekday")
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		days, rest, why := r.Weekdays(text)
		if why != when.OK {
			if days != nil || rest != text {
				t.Fatalf("%q is refused with %v %q", text, days, rest)
			}
			return
		}
		seen := map[int]bool{}
		for _, d := range days {
			if d < 0 || d > 6 || seen[int(d)] {
				t.Fatalf("%q is %v", text, days)
			}
			seen[int(d)] = true
		}
		if len(days) == 0 || len(cut(t, text, rest)) == 0 {
			t.Fatalf("%q is %v and leaves %q", text, days, rest)
		}
	})
}

func FuzzWeek(f *testing.F) {
	seeds(f, "week")
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		week, why := r.Week(text)
		for _, h := range week {
			if !tradable(h) || why != when.OK && h != (shop.Hours{}) || h.Open == h.Close && h.Open != 0 {
				t.Fatalf("%q is %v %q", text, week, why)
			}
		}
	})
}

// Whatever is typed, hours that are read can be laid down, and only named days get any.
func FuzzTrading(f *testing.F) {
	for _, text := range []string{"9-5", "mon-fri 7-13 and 15-19", "24/7", "1 jun to 31 aug 8-22"} {
		f.Add(text)
	}
	r := reader(f, "2026-11-26", "IE")
	f.Fuzz(func(t *testing.T, text string) {
		said, why := r.Trading(text)
		if why != when.OK {
			return
		}
		for d, h := range said.Week {
			if !h.Sound() || !said.Literal[d].Sound() {
				t.Errorf("%q: %+v", text, said)
			}
			if h != (shop.Hours{}) && !said.Named[d] {
				t.Errorf("%q gives hours to a day it does not name: %+v", text, said)
			}
		}
	})
}
