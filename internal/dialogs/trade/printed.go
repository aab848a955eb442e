package trade

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
)

// PrintedEver gives all slips of the ledger, by the number of their record.
func PrintedEver(c *engine.Talk) map[int64]engine.Printed {
	all := map[int64]engine.Printed{}
	if !HasLedger(c) {
		return all
	}
	counted := map[int64]time.Time{}
	for _, e := range books.InForce(Ledger(c)) {
		switch e.Kind {
		case books.Count:
			counted[e.Period] = e.Happened
		case books.Settlement:
			s := engine.Printed{At: e.Happened, Part: e.Has(books.Unsettled)}
			if at, ok := counted[e.Period]; ok && at.Before(s.At) {
				s.At = at
			}
			all[e.Seq] = s
		}
	}
	return all
}

// owesLeast reports whether the bank owes more than is known for a period at
// hand: the figures from before a restart of the counters are missing.
func owesLeast(c *engine.Talk) bool {
	for _, x := range c.M.Due() {
		if p := c.M.Period(x.Period); p != nil && p.Has(books.Unsettled) {
			return true
		}
	}
	return false
}

// Least says of an amount that it may be more.
func Least(c *engine.Talk, part bool, money string) string {
	if !part {
		return money
	}
	return c.V.Say("at-least", "money", money)
}
