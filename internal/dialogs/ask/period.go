package ask

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
)

// Target is the period that what is told now belongs to, or nil.
func Target(c *engine.Talk) *books.Period {
	if c.State.Draft.Period != 0 {
		return c.M.Period(c.State.Draft.Period)
	}
	if c.State.Draft.Happened.IsZero() {
		return c.M.Current()
	}
	var best *books.Period
	for _, p := range c.M.Periods {
		if p.Unfinished() && !p.Opened.After(c.State.Draft.Happened) &&
			(best == nil || p.Opened.After(best.Opened)) {
			best = p
		}
	}
	return best
}

// OpenedDay writes the day on which the period began that what is told now
// belongs to; empty where there is none.
func OpenedDay(c *engine.Talk) string {
	p := Target(c)
	if p == nil {
		return ""
	}
	return c.V.Day(c.Local(p.Opened))
}
