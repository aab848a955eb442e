package reminding

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// needs reports whether a task is still to be done by the books. Where notes
// stay in overnight, a machine that is open needs no opening, and the printed
// figures of the day stand for the closing.
func needs(c *engine.Talk, m *books.Machine, n reminders.Name) bool {
	switch n.Task {
	case reminders.Opening:
		return needsOpening(c, m, n.Date)
	case reminders.Closing:
		return needsClosing(c, m, n.Date)
	case reminders.Unclosed:
		return unclosed(c, m, n.Date) != nil
	}
	return false
}

func needsOpening(c *engine.Talk, m *books.Machine, date shop.Date) bool {
	if !c.F.Shop.Nightly && m.Current() != nil {
		return false
	}
	for _, p := range m.Periods {
		// one that was loaded ahead and is counted already does not stand for it
		counted := p.Status != books.Open && reminders.Today(c.F.Shop, p.CountedAt) < date
		if c.DayOf(p) >= date && !counted {
			return false
		}
	}
	return true
}

func needsClosing(c *engine.Talk, m *books.Machine, date shop.Date) bool {
	p := m.Current()
	if p == nil || c.DayOf(p) > date {
		return false
	}
	if c.F.Shop.Nightly {
		return true
	}
	open := reminders.On(c.F.Shop, date).Open
	for _, slip := range p.Slips {
		if slip.Happened.After(open) {
			return false
		}
	}
	return true
}

// unclosed finds the oldest period of a date or before whose count or printed
// figures are missing, or nil.
func unclosed(c *engine.Talk, m *books.Machine, date shop.Date) *books.Period {
	for _, p := range m.Periods {
		if p.Unfinished() && c.DayOf(p) <= date && (p.Status == books.Waiting || c.F.Shop.Nightly) {
			return p
		}
	}
	return nil
}
