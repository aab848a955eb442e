package reminders

import (
	"time"

	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// Reason says why a shop does not trade on a day.
type Reason string

// The reasons.
const (
	Weekly  Reason = "weekly"  // closed that day of the week
	Public  Reason = "holiday" // a public holiday
	OneOff  Reason = "change"  // told in the chat
	Nobody  Reason = "off"     // nobody comes, the machine stays off
	Trading Reason = ""        // it does trade
)

// Day is what a shop plans for a date. A day that trades past midnight is the
// one it began on.
type Day struct {
	Date    shop.Date
	Closed  Reason
	Holiday string    // name of the public holiday, also when the shop trades
	Open    time.Time // zero when closed
	Close   time.Time
	Duty    shop.Duty
	Sudden  bool // closed only since that day: something may have been begun
}

// On gives a shop's plan for a date: the weekly hours, public holidays, and
// then the one-off changes in the order they were told.
func On(s *shop.Shop, date shop.Date) Day {
	weekly := s.Hours[date.Weekday()]
	hours := weekly
	d := Day{Date: date, Holiday: holidays.On(s.Country, date), Duty: s.Plan.Duty[date.Weekday()]}
	switch {
	case weekly == shop.Hours{}:
		d.Closed = Weekly
	case d.Holiday != "" && !s.Plan.TradesOnHolidays:
		d.Closed = Public
	}
	for _, c := range s.Plan.Changes {
		if c.From <= date && date <= c.To {
			d.apply(s, c, weekly, &hours)
		}
	}
	if d.Closed == Trading {
		d.Open, d.Close = span(s.Location, date, hours)
	}
	return d
}

func (d *Day) apply(s *shop.Shop, c shop.Change, weekly shop.Hours, hours *shop.Hours) {
	if c.Silences() {
		d.Sudden = shop.DateOf(c.At.In(s.Location)) == d.Date
	}
	switch {
	case c.Usual:
		*hours, d.Closed, d.Duty = weekly, Trading, s.Plan.Duty[d.Date.Weekday()]
		if weekly == (shop.Hours{}) {
			d.Closed = Weekly
		}
	case c.Off:
		d.Closed = Nobody
	case c.Closed:
		d.Closed = OneOff
	case c.Open != nil || c.Close != nil:
		if *hours == (shop.Hours{}) {
			*hours = anyHours(s)
		}
		d.Closed = Trading
		set(&hours.Open, c.Open)
		set(&hours.Close, c.Close)
	}
	if c.Duty.Opens != 0 {
		d.Duty.Opens = c.Duty.Opens
	}
	if c.Duty.Closes != 0 {
		d.Duty.Closes = c.Duty.Closes
	}
}

func set(minutes, to *int) {
	if to != nil {
		*minutes = *to
	}
}

// anyHours are the hours of some day, for a day that has none of its own.
func anyHours(s *shop.Shop) shop.Hours {
	for _, h := range s.Hours {
		if h != (shop.Hours{}) {
			return h
		}
	}
	return shop.Hours{Open: usualOpen, Close: usualClose}
}

// Hours of a shop that has told none, in minutes after midnight.
const (
	usualOpen  = 9 * 60
	usualClose = 18 * 60
)

// span turns hours into instants; a closing at or before the opening is on the
// next date.
func span(zone *time.Location, date shop.Date, h shop.Hours) (open, end time.Time) {
	until := h.Close
	if until <= h.Open {
		until += 24 * 60
	}
	return Instant(zone, date, h.Open), Instant(zone, date, until)
}

// Which day an instant belongs to is said here and nowhere else. What begins a day, an
// opening or a load, belongs to the day it is for: [DayOf]. Everything else, a count, a
// slip, a credit, belongs to the day it happens in: [Today]. Both go by the shop's plan of
// that version; whoever keeps what they say keeps it with the record.

// Today is the date whose trading an instant belongs to: the night of a shop
// that trades past midnight belongs to the date before.
func Today(s *shop.Shop, now time.Time) shop.Date { return today(s, on(s), now) }

// DayOf is the day an opening at an instant is for: the day it falls on, or the
// next day of trading where there is none that day or it is over.
func DayOf(s *shop.Shop, opened time.Time) shop.Date { return dayOf(s, on(s), opened) }

// After is the next day of trading after a date, or the date after it when
// there is none within a week and a half.
func After(s *shop.Shop, date shop.Date) shop.Date { return after(on(s), date) }

// plan gives the plan of a date.
type plan func(shop.Date) Day

func on(s *shop.Shop) plan { return func(date shop.Date) Day { return On(s, date) } }

func today(s *shop.Shop, on plan, now time.Time) shop.Date {
	date := shop.DateOf(now.In(s.Location))
	d := on(date.Add(-1))
	if d.Closed == Trading && now.Before(d.Close.Add(afterClose)) &&
		shop.DateOf(d.Close.In(s.Location)) == date {
		return d.Date
	}
	return date
}

func dayOf(s *shop.Shop, on plan, opened time.Time) shop.Date {
	date := today(s, on, opened)
	if d := on(date); d.Closed != Trading || opened.After(d.Close) {
		return after(on, date)
	}
	return date
}

// lookAround bounds, in days, how far the neighbours of a day are looked for.
const lookAround = 10

func after(on plan, date shop.Date) shop.Date {
	for ahead := 1; ahead <= lookAround; ahead++ {
		if next := date.Add(ahead); on(next).Closed == Trading {
			return next
		}
	}
	return date.Add(1)
}
