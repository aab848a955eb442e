package reminders

import (
	"sort"
	"time"

	"shopfloat/internal/shop"
)

// Instant is when the clocks of a zone show a time of day, in minutes after the
// date's midnight; a full day and more lead into the next dates. In a gap it is
// the first instant after it, of two it is the first.
func Instant(zone *time.Location, date shop.Date, minutes int) time.Time {
	wall := date.Time().Add(time.Duration(minutes) * time.Minute) // as if the zone were UTC
	// time.Date picks a side of a gap or a repetition that differs from zone to
	// zone, so both offsets around the wall time are tried.
	before, after := offset(zone, wall.Add(-day)), offset(zone, wall.Add(day))
	first, second := wall.Add(-max(before, after)), wall.Add(-min(before, after))
	if offset(zone, first) == max(before, after) {
		return first
	}
	if offset(zone, second) == min(before, after) {
		return second
	}
	from := wall.Add(-day)
	seconds := sort.Search(int(2*day/time.Second), func(s int) bool {
		return offset(zone, from.Add(time.Duration(s)*time.Second)) == after
	})
	return from.Add(time.Duration(seconds) * time.Second)
}

const day = 24 * time.Hour

// offset is how far a zone's clocks are ahead of UTC.
func offset(zone *time.Location, at time.Time) time.Duration {
	_, seconds := at.In(zone).Zone()
	return time.Duration(seconds) * time.Second
}
