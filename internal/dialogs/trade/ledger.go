package trade

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

func HasLedger(c *engine.Talk) bool { return c.F.Ask.Entries != nil }

// Ledger is the machine's ledger with what this step recorded so far.
func Ledger(c *engine.Talk) []books.Entry {
	all := c.F.Ask.Entries()
	for i, r := range c.Records {
		all = append(all[:len(all):len(all)], c.Entry(r, c.Before().Seq+1+int64(i)))
	}
	return all
}

// Original finds a record of the ledger as it holds now: as it was written, or
// as the last correction put it.
func Original(c *engine.Talk, seq int64) (books.Entry, bool) {
	all := Ledger(c)
	if seq <= 0 || seq > int64(len(all)) {
		return books.Entry{}, false
	}
	e, void := all[seq-1], map[int64]bool{}
	for _, x := range all {
		if x.Kind == books.Undo {
			void[x.Target] = true
		}
	}
	for _, x := range all {
		if x.Kind == books.Correction && x.Target == seq && !void[x.Seq] {
			if x.Instead == nil {
				return e, false
			}
			e.Record = *x.Instead
		}
	}
	return e, !void[seq]
}

// PeriodOn finds the last period of a day of trading; 0 for none.
func PeriodOn(c *engine.Talk, date shop.Date) int64 {
	no := int64(0)
	for _, p := range Look(c).Periods {
		if c.DayOf(p) == date {
			no = p.No
		}
	}
	return no
}

// Look gives the books with everything that ever was, to look back. Where they
// cannot be had it is what is at hand.
func Look(c *engine.Talk) *books.Machine {
	if c.F.Ask.Entries == nil {
		return c.M
	}
	m, err := books.History(c.M.ID, c.F.Ask.Entries())
	if err != nil {
		return c.M
	}
	return m
}

// PastDays reads days that have been: monday, yesterday, 24 november, monday to
// wednesday. No day at all is today, and takes nothing of the text; so it is for a
// day that has not come yet.
func PastDays(c *engine.Talk, s string) (from, to shop.Date, rest string) {
	days, rest, why := ask.Reader(c).Days(s, when.Back)
	switch {
	case why != when.OK:
		return c.Today(), c.Today(), rest
	case days.From > c.Today():
		return c.Today(), c.Today(), s
	}
	return days.From, days.To, rest
}
