package abacus

import (
	"time"

	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// Calendar tells the day of trading of what happens, by what a shop has laid down.
// It knows weekly hours, public holidays kept or not, and one-off changes that
// close a day; no seasons, no choices of single holidays, and no days without an end.
type Calendar struct {
	Shop   *shop.Shop
	clocks map[clock]time.Time // found before
}

// clock is a time on the wall of the shop.
type clock struct {
	date    shop.Date
	minutes int
}

// CalendarOf gives the calendar of a shop.
func CalendarOf(s *shop.Shop) *Calendar { return &Calendar{Shop: s, clocks: map[clock]time.Time{}} }

// span is when a date's trading begins and ends; not at all where it is closed.
func (c *Calendar) span(date shop.Date) (open, end time.Time, trades bool) {
	open, end, trades = c.week(date)
	day := holidays.At(c.Shop.Place(), date)
	if day.Name != "" && day.Sure == holidays.Kept && !c.Shop.Plan.TradesOnHolidays {
		trades = false
	}
	for _, change := range c.Shop.Plan.Changes {
		if change.From <= date && date <= change.To && change.Closed {
			trades = false
		}
	}
	if !trades {
		return time.Time{}, time.Time{}, false
	}
	return open, end, true
}

// week is when a date's trading begins and ends by the week alone.
func (c *Calendar) week(date shop.Date) (open, end time.Time, trades bool) {
	h := c.Shop.Hours[date.Weekday()]
	if h == (shop.Hours{}) {
		return open, end, false
	}
	closes := h.Close
	if closes <= h.Open {
		closes += 24 * 60
	}
	return c.clock(date, h.Open), c.clock(date, closes), true
}

// clock is the first instant at which the shop's clock shows a time of a date or
// a later one, found by looking at the clock each quarter of an hour.
func (c *Calendar) clock(date shop.Date, minutes int) time.Time {
	on := clock{date, minutes}
	if at, ok := c.clocks[on]; ok {
		return at
	}
	wall := date.Time().Add(time.Duration(minutes) * time.Minute)
	want := wall.Format("2006-01-02 15:04")
	for at := wall.Add(-15 * time.Hour); ; at = at.Add(15 * time.Minute) {
		if at.In(c.Shop.Location).Format("2006-01-02 15:04") >= want {
			c.clocks[on] = at
			return at
		}
	}
}

// Happens is the day of something that happens: that of the clock, and in the night
// after a day that traded past midnight that day, until two hours after its end.
func (c *Calendar) Happens(at time.Time) shop.Date {
	date := shop.DateOf(at.In(c.Shop.Location))
	_, end, trades := c.span(date.Add(-1))
	if trades && shop.DateOf(end.In(c.Shop.Location)) == date && at.Before(end.Add(2*time.Hour)) {
		return date.Add(-1)
	}
	return date
}

// Opens is the day an opening is for: the one it happens in while that trades or
// will, also where it was to be closed and is traded on all the same within the hours
// of such a day of the week; else the next that trades.
func (c *Calendar) Opens(at time.Time) shop.Date {
	date := c.Happens(at)
	if _, end, usual := c.week(date); usual && at.Before(end) {
		return date
	}
	if _, end, trades := c.span(date); trades && !at.After(end) {
		return date
	}
	for next := date.Add(1); next <= date.Add(10); next = next.Add(1) {
		if _, _, trades := c.span(next); trades {
			return next
		}
	}
	return date.Add(1)
}

// Slip is the day of a slip that was printed at an instant within a period: the
// last one that had begun, at noon where it does not trade, and never one before
// the period's own.
func (c *Calendar) Slip(period shop.Date, at time.Time) shop.Date {
	day := period
	for date := period.Add(1); date <= c.Happens(at); date = date.Add(1) {
		begins, _, trades := c.span(date)
		if !trades {
			begins = c.clock(date, 12*60)
		}
		if !at.Before(begins) {
			day = date
		}
	}
	return day
}
