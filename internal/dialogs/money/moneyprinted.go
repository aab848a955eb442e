package money

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// printed looks a claim's slip up in its period, or in the ledger when that is
// no longer at hand. A slip was printed at the count, however late it is typed in.
func printed(c *engine.Talk, x books.Claim) engine.Printed {
	if p := c.M.Period(x.Period); p != nil {
		s := engine.Printed{At: x.Settled, Part: p.Has(books.Unsettled)}
		if !p.CountedAt.IsZero() && p.CountedAt.Before(x.Settled) {
			s.At = p.CountedAt
		}
		return s
	}
	if c.Slips == nil {
		c.Slips = trade.PrintedEver(c)
	}
	if s, ok := c.Slips[x.Seq]; ok {
		return s
	}
	return engine.Printed{At: x.Settled}
}

// slipDay is the day of trading on which a claim's slip was printed.
func slipDay(c *engine.Talk, x books.Claim) shop.Date {
	return reminders.Today(c.F.Shop, printed(c, x).At)
}
