package shop

import (
	"fmt"
	"time"
)

// Date is a day of the calendar without hour or zone, written YYYY-MM-DD
// (ISO 8601), so that dates are ordered like their text. Empty is no date.
type Date string

// DateOf gives the date that a time shows on its own clock.
func DateOf(t time.Time) Date { return Date(t.Format(time.DateOnly)) }

// ParseDate reads YYYY-MM-DD. Anything else is an error.
func ParseDate(text string) (Date, error) {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "", fmt.Errorf("date %q: want YYYY-MM-DD", text)
	}
	return Date(text), nil
}

// Time is the date's midnight in UTC, to reckon with; zero for no date.
func (d Date) Time() time.Time {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return time.Time{}
	}
	return t
}

// Add gives the date so many days later, or earlier.
func (d Date) Add(days int) Date { return DateOf(d.Time().AddDate(0, 0, days)) }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// Weekdays are the names of weekdays in settings, Sunday first.
func Weekdays() []string { return []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"} }
