package reminders

import (
	"fmt"
	"hash/fnv"
	"time"

	"shopfloat/internal/shop"
)

// Due is when a task of a day is due; ok is false when there is none that day.
func Due(s *shop.Shop, date shop.Date, task Task) (at time.Time, ok bool) {
	switch task {
	case Opening:
		d := On(s, date)
		if d.Endless {
			return fillingTime(s, date), true
		}
		return d.Open, d.Closed == Trading
	case Filling:
		return fillingTime(s, date), On(s, date).Endless
	case Closing:
		d := On(s, date)
		if d.Endless {
			return d.Close, true
		}
		return d.Close.Add(countTime), d.Closed == Trading
	case Unclosed:
		d := On(s, date)
		if d.Closed != Trading && !d.Sudden {
			return at, false
		}
		if d.Endless {
			return d.Close.Add(endlessUnclosed), true
		}
		return morning(s, date.Add(1)), true
	case Eve:
		next := On(s, date.Add(1))
		return Instant(s.Location, date, noticeTime), next.Closed == Public
	case Doubt:
		return Instant(s.Location, date, noticeTime), Doubted(s, date.Add(doubtAhead)) != ""
	case Summary:
		return Instant(s.Location, date, noticeTime), summaryDay(s, date)
	}
	return at, false
}

// doubtAhead is how many days before a doubtful holiday is asked about.
const doubtAhead = 7

// endlessUnclosed is how long after its figures a day without an end is taken for
// unclosed. Common practice, no source.
const endlessUnclosed = 6 * time.Hour

// FillingWindow is how long, in minutes, the window for filling is in which the reminder comes: money
// is not to be carried at a fixed time (guidance of police and labour inspections on
// carrying cash: vary times and routes).
const FillingWindow = 3 * 60

// fillingTime is when filling is due on a day without an end: a minute of the window that
// varies from day to day and from shop to shop, the same however often it is asked for.
func fillingTime(s *shop.Shop, date shop.Date) time.Time {
	_, from, _ := s.Endless()
	h := fnv.New32a()
	_, _ = fmt.Fprintf(h, "%d %s", s.ID, date)
	return Instant(s.Location, date, from+int(h.Sum32()%FillingWindow))
}

// noticeTime is when things are told that have no time of their own, in
// minutes after midnight.
const noticeTime = 9*60 + 30

// morning is when a day begins, whether the shop trades or not.
func morning(s *shop.Shop, date shop.Date) time.Time {
	if d := On(s, date); d.Closed == Trading {
		return d.Open
	}
	return Instant(s.Location, date, usualHours().Open)
}

func summaryDay(s *shop.Shop, date shop.Date) bool {
	want := s.Plan.Summary
	if want == "" {
		want = "mon"
	}
	return shop.Weekdays()[date.Weekday()] == want
}
