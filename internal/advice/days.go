package advice

import (
	"shopfloat/internal/demand"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// dayOf turns a date of the shop into a day of a history.
func dayOf(d shop.Date) demand.Day { return demand.DayOf(d.Time().Date()) }

// dateOf is the way back.
func dateOf(d demand.Day) shop.Date { return shop.Date(d.String()) }

// pays reports whether the machine can pay on a date: the shop trades, or the
// machine pays while it is closed. Where nobody comes it stays off.
func pays(s *shop.Shop, date shop.Date) bool { return canPay(s, reminders.On(s, date)) }

func canPay(s *shop.Shop, d reminders.Day) bool {
	return d.Closed == reminders.Trading || s.Load.Always && d.Closed != reminders.Nobody
}

func trades(s *shop.Shop, date shop.Date) bool {
	return reminders.On(s, date).Closed == reminders.Trading
}

// Until is the last day that a load of a date is to last for: the day before
// the next one on which somebody can load.
func Until(s *shop.Shop, from shop.Date) shop.Date {
	to := reminders.After(s, from).Add(-1)
	for to > from && !pays(s, to) {
		to = to.Add(-1)
	}
	return to
}

// paying lists the days from one date to another on which the machine can pay.
func paying(s *shop.Shop, from, to shop.Date) []demand.Day {
	var days []demand.Day
	for d := from; d <= to; d = d.Add(1) {
		if pays(s, d) {
			days = append(days, dayOf(d))
		}
	}
	return days
}
