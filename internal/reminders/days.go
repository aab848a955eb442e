package reminders

import (
	"time"

	"shopfloat/internal/shop"
)

// Days remembers a shop's plan day by day: looking up public holidays takes
// long, and whoever looks back over years asks for each day often. It is not
// safe for several goroutines and must not outlive the version of the shop.
type Days struct {
	shop *shop.Shop
	late bool // it trades past midnight now and then, or at hours of single days
	open int  // else: the minute from which on trading of each date has begun
	seen map[shop.Date]Day
}

// NewDays remembers nothing yet.
func NewDays(s *shop.Shop) *Days {
	return &Days{shop: s, late: s.Late(), open: s.OpensBy() + 60, // clocks may jump ahead meanwhile
		seen: map[shop.Date]Day{}}
}

// On is [On].
func (d *Days) On(date shop.Date) Day {
	day, ok := d.seen[date]
	if !ok {
		day = On(d.shop, date)
		d.seen[date] = day
	}
	return day
}

// Today is [Today].
func (d *Days) Today(now time.Time) shop.Date {
	if !d.late {
		return shop.DateOf(now.In(d.shop.Location))
	}
	return today(d.shop, d.On, now)
}

// DayOf is [DayOf].
func (d *Days) DayOf(opened time.Time) shop.Date { return dayOf(d.shop, d.On, opened) }

// Early reports whether an instant of a date, its own by [Today], is before trading begins on it. For
// one late enough no plan is made.
func (d *Days) Early(date shop.Date, now time.Time) bool {
	if hour, minute, _ := now.In(d.shop.Location).Clock(); !d.late && hour*60+minute >= d.open {
		return false
	}
	day := d.On(date)
	return day.Closed == Trading && now.Before(day.Open)
}
