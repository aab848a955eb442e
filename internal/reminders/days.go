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
	seen map[shop.Date]Day
}

// NewDays remembers nothing yet.
func NewDays(s *shop.Shop) *Days { return &Days{shop: s, seen: map[shop.Date]Day{}} }

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
func (d *Days) Today(now time.Time) shop.Date { return today(d.shop, d.On, now) }

// DayOf is [DayOf].
func (d *Days) DayOf(opened time.Time) shop.Date { return dayOf(d.shop, d.On, opened) }
