package reminders

import (
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// Night is quiet unless the shop trades then. All common practice, no source.
const (
	nightFrom  = 23 * 60
	nightUntil = 6 * 60
	beforeOpen = time.Hour     // of trading, in which people may be told things
	afterClose = 2 * time.Hour // likewise
)

// Quiet reports whether nobody is to be reminded at an instant.
func Quiet(s *shop.Shop, now time.Time) bool {
	return inNight(s, now) && !atWork(s, now)
}

func night(s *shop.Shop) shop.Hours {
	if s.Plan.Night != nil {
		return *s.Plan.Night
	}
	return shop.Hours{Open: nightFrom, Close: nightUntil}
}

func inNight(s *shop.Shop, now time.Time) bool {
	n, minute := night(s), minuteOf(s, now)
	if n.Open <= n.Close {
		return n.Open <= minute && minute < n.Close
	}
	return minute >= n.Open || minute < n.Close
}

// minuteOf is what the shop's clock shows, in minutes after midnight.
func minuteOf(s *shop.Shop, now time.Time) int {
	local := now.In(s.Location)
	return local.Hour()*60 + local.Minute()
}

// atWork reports whether the shop trades then, or is about to or has just.
func atWork(s *shop.Shop, now time.Time) bool {
	date := shop.DateOf(now.In(s.Location))
	for _, near := range []shop.Date{date.Add(-1), date, date.Add(1)} {
		d := On(s, near)
		if d.Closed == Trading && !now.Before(d.Open.Add(-beforeOpen)) && !now.After(d.Close.Add(afterClose)) {
			return true
		}
	}
	return false
}

// Awake is the first instant from now on that is not quiet: the end of the night, an hour before the
// shop opens, or where the clock is set back, which shows again a minute before the night began or
// that of its end.
func Awake(s *shop.Shop, now time.Time) time.Time {
	if !Quiet(s, now) {
		return now
	}
	date, until := shop.DateOf(now.In(s.Location)), night(s).Close
	_, set := now.In(s.Location).ZoneBounds() // the zero time where it is never set again
	ends := []time.Time{set}
	for _, from := range []time.Time{now.Truncate(time.Minute), set} {
		ends = append(ends, from.Add(time.Duration(max(until-minuteOf(s, from), 0))*time.Minute))
	}
	for _, near := range []shop.Date{date, date.Add(1)} {
		ends = append(ends, Instant(s.Location, near, until), On(s, near).Open.Add(-beforeOpen))
	}
	slices.SortFunc(ends, time.Time.Compare)
	for _, at := range ends {
		if at.After(now) && !Quiet(s, at) {
			return at
		}
	}
	return ends[len(ends)-1]
}

// asleep reports whether those a rung tells sleep while others work: who manages a shop
// that never closes does not sit in it all night.
func asleep(s *shop.Shop, at time.Time, to shop.Group) bool {
	_, _, endless := s.Endless()
	return endless && to != shop.List && inNight(s, at)
}

// awake is the first instant from one on at which people may be told things: of the night,
// its end.
func awake(s *shop.Shop, at time.Time) time.Time {
	if Quiet(s, at) {
		return Awake(s, at)
	}
	date, until := shop.DateOf(at.In(s.Location)), night(s).Close
	if end := Instant(s.Location, date, until); end.After(at) {
		return end
	}
	return Instant(s.Location, date.Add(1), until)
}
