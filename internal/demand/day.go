package demand

import (
	"fmt"
	"time"
)

// Day is a calendar date in the shop's own zone, counted in days since
// 1 January 1970. It has no hour and no zone, so a clock change cannot move it.
type Day int32

// DayOf returns the day of a date; out-of-range months and days carry over
// as in time.Date.
func DayOf(year int, month time.Month, day int) Day {
	return Day(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// ParseDay reads a date written YYYY-MM-DD. Anything else is an error.
func ParseDay(text string) (Day, error) {
	at, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return 0, fmt.Errorf("date %q: want YYYY-MM-DD", text)
	}
	return DayOf(at.Date()), nil
}

// Date returns year, month and day of the month.
func (d Day) Date() (year int, month time.Month, day int) {
	return time.Unix(int64(d)*86400, 0).UTC().Date()
}

// String writes the day as YYYY-MM-DD.
func (d Day) String() string {
	year, month, day := d.Date()
	return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
}

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday {
	const firstWeekday = int(time.Thursday) // 1 January 1970
	return time.Weekday(((int(d)+firstWeekday)%7 + 7) % 7)
}

// easter returns Easter Sunday of the Gregorian calendar by the anonymous
// computation published in Nature, vol. 13 (1876), p. 487.
func easter(year int) Day {
	a, b, c := year%19, year/100, year%100
	d, e := b/4, b%4
	g := (b - (b+8)/25 + 1) / 3
	h := (19*a + b - d - g + 15) % 30
	i, k := c/4, c%4
	l := (32 + 2*e + 2*i - h - k) % 7
	m := (a + 11*h + 22*l) / 451
	month := (h + l - 7*m + 114) / 31
	day := (h+l-7*m+114)%31 + 1
	return DayOf(year, time.Month(month), day)
}
