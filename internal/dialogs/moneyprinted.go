package dialogs

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// printed tells of the slip behind a claim what the claim itself does not.
type printed struct {
	at   time.Time
	part bool // what was paid out before the counters started again is not on it
}

// printed looks a claim's slip up in its period, or in the ledger when that is
// no longer at hand. A slip was printed at the count, however late it is typed in.
func (c *talk) printed(x books.Claim) printed {
	if p := c.m.Period(x.Period); p != nil {
		s := printed{at: x.Settled, part: p.Has(books.Unsettled)}
		if !p.CountedAt.IsZero() && p.CountedAt.Before(x.Settled) {
			s.at = p.CountedAt
		}
		return s
	}
	if c.slips == nil {
		c.slips = c.printedEver()
	}
	if s, ok := c.slips[x.Seq]; ok {
		return s
	}
	return printed{at: x.Settled}
}

// printedEver gives all slips of the ledger, by the number of their record.
func (c *talk) printedEver() map[int64]printed {
	all := map[int64]printed{}
	if !c.hasLedger() {
		return all
	}
	counted := map[int64]time.Time{}
	for _, e := range books.InForce(c.ledger()) {
		switch e.Kind {
		case books.Count:
			counted[e.Period] = e.Happened
		case books.Settlement:
			s := printed{at: e.Happened, part: e.Has(books.Unsettled)}
			if at, ok := counted[e.Period]; ok && at.Before(s.at) {
				s.at = at
			}
			all[e.Seq] = s
		}
	}
	return all
}

// slipDay is the day of trading on which a claim's slip was printed.
func (c *talk) slipDay(x books.Claim) shop.Date { return reminders.Today(c.f.Shop, c.printed(x).at) }

// owesLeast reports whether the bank owes more than is known for a period at
// hand: the figures from before a restart of the counters are missing.
func (c *talk) owesLeast() bool {
	for _, x := range c.m.Due() {
		if p := c.m.Period(x.Period); p != nil && p.Has(books.Unsettled) {
			return true
		}
	}
	return false
}

// least says of an amount that it may be more.
func (c *talk) least(part bool, money string) string {
	if !part {
		return money
	}
	return c.v.Say("at-least", "money", money)
}
