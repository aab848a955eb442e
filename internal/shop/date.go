package shop

import (
	"fmt"
	"time"
)

// Date is a day of the calendar without hour or zone, written YYYY-MM-DD
// (ISO 8601), so that dates are ordered like their text. Empty is no date.
type Date string

// DateOf gives the date that a time shows on its own clock.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	if y < 0 || y > 9999 {
		return Date(t.Format(time.DateOnly))
	}
	return Date([]byte{digit(y / 1000), digit(y / 100), digit(y / 10), digit(y), '-',
		digit(int(m) / 10), digit(int(m)), '-', digit(d / 10), digit(d)})
}

func digit(n int) byte { return '0' + byte(n%10) }

// ParseDate reads YYYY-MM-DD. Anything else is an error.
func ParseDate(text string) (Date, error) {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "", fmt.Errorf("date %q: want YYYY-MM-DD", text)
	}
	return Date(text), nil
}

// Time is the date's midnight in UTC, to reckon with; zero for no date.
func (d Date) Time() time.Time {
	if t, ok := d.plain(); ok {
		return t
	}
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return time.Time{}
	}
	return t
}

// plain reads a date whose days every month has, faster than anything that asks the calendar.
func (d Date) plain() (time.Time, bool) {
	if len(d) != len(time.DateOnly) || d[4] != '-' || d[7] != '-' {
		return time.Time{}, false
	}
	var n [3]int
	for i, part := range [3]Date{d[:4], d[5:7], d[8:]} {
		for _, c := range []byte(part) {
			if c < '0' || c > '9' {
				return time.Time{}, false
			}
			n[i] = n[i]*10 + int(c-'0')
		}
	}
	if n[1] < 1 || n[1] > 12 || n[2] < 1 || n[2] > 28 {
		return time.Time{}, false
	}
	return time.Date(n[0], time.Month(n[1]), n[2], 0, 0, 0, 0, time.UTC), true
}

// Add gives the date so many days later, or earlier.
func (d Date) Add(days int) Date { return DateOf(d.Time().AddDate(0, 0, days)) }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// Weekdays are the names of weekdays in settings, Sunday first.
func Weekdays() []string { return []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"} }
