// Package firstdays gives records that do not say their day of trading the one
// they were told under, by the rule of the programs that wrote them.
package firstdays

import (
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Rule is the rule by which days were told before records said their own. It
// is for such records alone, so that they stay under the day they were told
// under, and it is never changed: whatever the rule is now, see [reminders.DayOf].
type Rule struct {
	shop *shop.Shop
	days *reminders.Days
}

// RuleOf is that rule by one version of a shop's settings.
func RuleOf(s *shop.Shop) Rule { return Rule{s, reminders.NewDays(s)} }

// Opened is the day of a period that was opened at an instant: the day of
// trading it fell on, or the next one where there was none or it was over.
func (f Rule) Opened(at time.Time) shop.Date {
	date := f.Date(at)
	if d := f.days.On(date); d.Closed == reminders.Trading && !at.After(d.Close) {
		return date
	}
	for ahead := 1; ahead <= firstAhead; ahead++ {
		if next := date.Add(ahead); f.days.On(next).Closed == reminders.Trading {
			return next
		}
	}
	return date.Add(1)
}

// Date is the date of anything else: a night of trading past midnight was that
// of the date before, for two hours after its end.
func (f Rule) Date(at time.Time) shop.Date {
	zone := f.shop.Location
	date := shop.DateOf(at.In(zone))
	d := f.days.On(date.Add(-1))
	late := at.Before(d.Close.Add(firstAfter)) && shop.DateOf(d.Close.In(zone)) == date
	if d.Closed == reminders.Trading && late {
		return d.Date
	}
	return date
}

// Printed is the day of a slip of a period that is told under a day. A night
// before anybody could trade again belongs to the date before.
func (f Rule) Printed(period shop.Date, at time.Time) shop.Date {
	date := f.Date(at)
	for ; date > period; date = date.Add(-1) {
		d := f.days.On(date)
		begins := d.Open
		if d.Closed != reminders.Trading {
			begins = reminders.Instant(f.shop.Location, d.Date, firstNoon)
		}
		if !at.Before(begins) {
			return date
		}
	}
	return period
}

// What the first rule looked at: in days, after the end of trading, and when a
// day begins on which nobody trades, in minutes.
const (
	firstNoon  = 12 * 60
	firstAhead = 10
	firstAfter = 2 * time.Hour
)
