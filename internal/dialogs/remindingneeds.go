package dialogs

import (
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// needs reports whether a task is still to be done by the books. Where notes
// stay in overnight, a machine that is open needs no opening, and the printed
// figures of the day stand for the closing.
func (c *talk) needs(m *books.Machine, n reminders.Name) bool {
	switch n.Task {
	case reminders.Opening:
		return c.needsOpening(m, n.Date)
	case reminders.Closing:
		return c.needsClosing(m, n.Date)
	case reminders.Unclosed:
		return c.unclosed(m, n.Date) != nil
	}
	return false
}

func (c *talk) needsOpening(m *books.Machine, date shop.Date) bool {
	if !c.f.Shop.Nightly && m.Current() != nil {
		return false
	}
	for _, p := range m.Periods {
		// one that was loaded ahead and is counted already does not stand for it
		counted := p.Status != books.Open && reminders.Today(c.f.Shop, p.CountedAt) < date
		if c.dayOf(p) >= date && !counted {
			return false
		}
	}
	return true
}

func (c *talk) needsClosing(m *books.Machine, date shop.Date) bool {
	p := m.Current()
	if p == nil || c.dayOf(p) > date {
		return false
	}
	if c.f.Shop.Nightly {
		return true
	}
	open := reminders.On(c.f.Shop, date).Open
	for _, slip := range p.Slips {
		if slip.Happened.After(open) {
			return false
		}
	}
	return true
}

// unclosed finds the oldest period of a date or before whose count or printed
// figures are missing, or nil.
func (c *talk) unclosed(m *books.Machine, date shop.Date) *books.Period {
	for _, p := range m.Periods {
		if p.Unfinished() && c.dayOf(p) <= date && (p.Status == books.Waiting || c.f.Shop.Nightly) {
			return p
		}
	}
	return nil
}

// dayOf is the day of trading a period is for.
func (c *talk) dayOf(p *books.Period) shop.Date { return reminders.DayOf(c.f.Shop, p.Opened) }

// today is the date whose trading is under way.
func (c *talk) today() shop.Date { return reminders.Today(c.f.Shop, c.in.At) }
