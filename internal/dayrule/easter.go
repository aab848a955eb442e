package dayrule

import "time"

// Easter is Easter Sunday of the western churches, in the Gregorian calendar
// (anonymous computus, as in J. Meeus, Astronomical Algorithms, chapter 8; the formula
// is from memory, its dates are tested).
func Easter(year int) time.Time {
	golden, century, rest := year%19, year/100, year%100
	shift := (century - (century+8)/25 + 1) / 3
	epact := (19*golden + century - century/4 - shift + 15) % 30
	sunday := (32 + 2*(century%4) + 2*(rest/4) - epact - rest%4) % 7
	late := (golden + 11*epact + 22*sunday) / 451
	n := epact + sunday - 7*late + 114
	return date(year, n/31, n%31+1)
}

// Orthodox is Easter Sunday of the eastern churches in the Gregorian calendar, for the
// years 1900 to 2099, in which the Julian one is 13 days behind.
func Orthodox(year int) time.Time {
	full := (19*(year%19) + 15) % 30
	sunday := (2*(year%4) + 4*(year%7) - full + 34) % 7
	n := full + sunday + 114
	return date(year, n/31, n%31+1).AddDate(0, 0, 13)
}
