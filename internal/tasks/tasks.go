// Package tasks says what of a shop's plan is still to be done by the books of a machine,
// and whom a reminder of it reaches: the right person, few times, and nobody while somebody
// is at it. It is pure.
package tasks

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// At is a machine of a shop.
type At struct {
	Shop    *shop.Shop
	Machine *books.Machine
	DayOf   func(*books.Period) shop.Date // the day of trading a period is for
}

// DayOf is the day of trading that a period of a shop is for, as it was recorded.
func DayOf(s *shop.Shop, p *books.Period) shop.Date {
	if p.Date != "" {
		return p.Date
	}
	return reminders.DayOf(s, p.Opened)
}

// Newest is when the last thing was recorded; zero where nothing was.
func (a At) Newest() time.Time {
	if last := len(a.Machine.Recent) - 1; last >= 0 {
		return a.Machine.Recent[last].Recorded
	}
	return time.Time{}
}

// Needed reports whether a task is still to be done. Where notes stay in overnight, a
// machine that is open needs no opening, and the printed figures of the day stand for the
// closing.
func (a At) Needed(n reminders.Name) bool {
	switch n.Task {
	case reminders.Opening:
		return a.opening(n.Date)
	case reminders.Closing:
		return a.closing(n.Date)
	case reminders.Filling:
		return a.filling(n.Date)
	case reminders.Unclosed:
		return a.Unclosed(n.Date) != nil
	}
	return false
}

func (a At) opening(date shop.Date) bool {
	if !a.Shop.Nightly && a.Machine.Current() != nil {
		return false
	}
	for _, p := range a.Machine.Periods {
		// one that was loaded ahead and is counted already does not stand for it
		counted := p.Status != books.Open && reminders.Today(a.Shop, p.CountedAt) < date
		if a.DayOf(p) >= date && !counted {
			return false
		}
	}
	return true
}

func (a At) closing(date shop.Date) bool {
	p := a.Machine.Current()
	if p == nil || a.DayOf(p) > date {
		return false
	}
	if a.Shop.Nightly {
		return true
	}
	day := reminders.On(a.Shop, date)
	for _, slip := range p.Slips {
		if day.Endless && reminders.Today(a.Shop, slip.Happened) >= date ||
			!day.Endless && slip.Happened.After(day.Open) {
			return false
		}
	}
	return true
}

// filling: nobody looked into an open machine on that day, nor put notes in.
func (a At) filling(date shop.Date) bool {
	p := a.Machine.Current()
	if p == nil || reminders.Today(a.Shop, p.Opened) >= date {
		return false
	}
	for _, r := range p.Readings {
		if reminders.Today(a.Shop, r.Happened) >= date {
			return false
		}
	}
	for _, e := range a.Machine.Recent {
		fills := e.Kind == books.TopUp || e.Kind == books.Swap
		if fills && reminders.Today(a.Shop, e.Happened) >= date {
			return false
		}
	}
	return true
}

// Unclosed finds the oldest period of a date or before whose count or printed figures are
// missing, or nil.
func (a At) Unclosed(date shop.Date) *books.Period {
	for _, p := range a.Machine.Periods {
		if p.Unfinished() && a.DayOf(p) <= date && (p.Status == books.Waiting || a.Shop.Nightly) {
			return p
		}
	}
	return nil
}

// Subject is the day of the period that a task of a date is about, which may be an earlier
// one: the machine was not counted since.
func (a At) Subject(n reminders.Name) shop.Date {
	p := a.Machine.Current()
	if n.Task == reminders.Unclosed {
		p = a.Unclosed(n.Date)
	}
	if p == nil || n.Task == reminders.Opening || !a.Shop.Nightly && n.Task != reminders.Unclosed {
		return n.Date
	}
	return min(n.Date, a.DayOf(p))
}
