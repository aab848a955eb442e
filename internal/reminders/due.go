package reminders

import (
	"time"

	"shopfloat/internal/shop"
)

// Due is when a task of a day is due; ok is false when there is none that day.
func Due(s *shop.Shop, date shop.Date, task Task) (at time.Time, ok bool) {
	switch task {
	case Opening:
		d := On(s, date)
		return d.Open, d.Closed == Trading
	case Closing:
		d := On(s, date)
		return d.Close.Add(countTime), d.Closed == Trading
	case Unclosed:
		if d := On(s, date); d.Closed != Trading && !d.Sudden {
			return at, false
		}
		return morning(s, date.Add(1)), true
	case Eve:
		next := On(s, date.Add(1))
		return Instant(s.Location, date, noticeTime), next.Closed == Public
	case Summary:
		return Instant(s.Location, date, noticeTime), summaryDay(s, date)
	}
	return at, false
}

// noticeTime is when things are told that have no time of their own, in
// minutes after midnight.
const noticeTime = 9*60 + 30

// morning is when a day begins, whether the shop trades or not.
func morning(s *shop.Shop, date shop.Date) time.Time {
	if d := On(s, date); d.Closed == Trading {
		return d.Open
	}
	return Instant(s.Location, date, usualOpen)
}

// Weekdays are the names of weekdays in settings, Sunday first.
func Weekdays() []string { return []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"} }

func summaryDay(s *shop.Shop, date shop.Date) bool {
	want := s.Plan.Summary
	if want == "" {
		want = "mon"
	}
	return Weekdays()[date.Weekday()] == want
}
