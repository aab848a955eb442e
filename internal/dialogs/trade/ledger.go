package trade

import (
	"errors"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// HasLedger reports whether all that was ever recorded can be had.
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

// RemindAgain plans the reminders of what the bank owes anew: sums and due
// dates may be others now.
func RemindAgain(c *engine.Talk) {
	for _, x := range c.M.Claims {
		if x.Left().IsPositive() {
			RemindOf(c, x)
		} else {
			QuietPaid(c, []int64{x.Seq})
		}
	}
}

// Correct writes a correction and takes it into the books at hand, so that the
// rest of the step sees what follows from it.
func Correct(c *engine.Talk, r books.Record) error {
	m, err := Corrected(c, r)
	if err != nil {
		return err
	}
	r.Happened = c.In.At.UTC()
	c.Records = append(c.Records, c.Entry(r, m.Seq).Record)
	c.M = m
	return nil
}

// Corrected gives the books as they would be with a correction.
func Corrected(c *engine.Talk, r books.Record) (*books.Machine, error) {
	if !HasLedger(c) {
		return nil, errors.New("the ledger is not at hand")
	}
	r.Happened = c.In.At.UTC()
	m, _, err := c.M.Correct(Ledger(c), c.Entry(r, c.M.Seq+1))
	return m, err
}
