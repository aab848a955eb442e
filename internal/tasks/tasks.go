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

// AllUnclosed lists the periods of a date or before whose count or printed figures are missing, the
// oldest first.
func (a At) AllUnclosed(date shop.Date) (list []*books.Period) {
	for _, p := range a.Machine.Periods {
		if p.Unfinished() && a.DayOf(p) <= date && (p.Status == books.Waiting || a.Shop.Nightly) {
			list = append(list, p)
		}
	}
	return list
}

// Unclosed finds the oldest of them, or nil.
func (a At) Unclosed(date shop.Date) *books.Period {
	if list := a.AllUnclosed(date); len(list) > 0 {
		return list[0]
	}
	return nil
}

// Told finds the one that is told of on that date, else the oldest, or nil.
func (a At) Told(date shop.Date) *books.Period {
	for _, p := range a.AllUnclosed(date) {
		if a.toldOn(p) == date {
			return p
		}
	}
	return a.Unclosed(date)
}

// toldOn is the date with whose tasks it is told that a period is not finished: its own, or the
// next one on which the shop trades.
func (a At) toldOn(p *books.Period) shop.Date {
	date := a.DayOf(p)
	for range lookAhead {
		if _, due := reminders.Due(a.Shop, date, reminders.Unclosed); due {
			return date
		}
		date = date.Add(1)
	}
	return date
}

// JustMissed reports whether a date is the first day of trading after a period was to be closed.
func (a At) JustMissed(p *books.Period, date shop.Date) bool {
	return reminders.After(a.Shop, a.toldOn(p)) == date
}

// lookAhead is how many days a shop may be closed in a row before that is told late.
const lookAhead = 30

// News reports whether a reminder is still to be said: that a day is not closed is told once, on
// its own evening and the next morning. Whoever does nothing about it then reads of it in the
// letter of the week and where they ask what is due.
func (a At) News(n reminders.Name) bool {
	p := a.Machine.Current()
	switch {
	case n.Task == reminders.Unclosed:
		p = a.Told(n.Date)
		return p == nil || a.toldOn(p) == n.Date
	case n.Task == reminders.Closing && a.Shop.Nightly && p != nil:
		return a.toldOn(p) >= n.Date
	}
	return true
}

// Missed is the task under which it was to be told the next morning that the day is not closed which a
// later morning finds open: it stays to be told where the program was down then and the evening before.
func (a At) Missed(n reminders.Name) (missed reminders.Name, ok bool) {
	p := a.Told(n.Date)
	if n.Task != reminders.Unclosed || p == nil {
		return n, false
	}
	missed = reminders.Name{Date: a.toldOn(p), Task: reminders.Unclosed}
	return missed, missed.Date >= n.Date.Add(-missedFor) && !a.Shop.Plan.Mutes(missed.Date)
}

// missedFor is how many days later that is still told. It is known for longer who was told what.
const missedFor = 7

// Subject is the day of the period that a task of a date is about, which may be an earlier
// one: the machine was not counted since.
func (a At) Subject(n reminders.Name) shop.Date {
	p := a.Machine.Current()
	if n.Task == reminders.Unclosed {
		p = a.Told(n.Date)
	}
	if p == nil || n.Task == reminders.Opening || !a.Shop.Nightly && n.Task != reminders.Unclosed {
		return n.Date
	}
	return min(n.Date, a.DayOf(p))
}
