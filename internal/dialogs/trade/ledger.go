package trade

import (
	"errors"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
)

// Ledger is the machine's ledger with what this step recorded so far.
func Ledger(c *engine.Talk) []books.Entry {
	all := c.F.Ask.Entries()
	for i, r := range c.Records {
		all = append(all[:len(all):len(all)], c.Entry(r, c.Before().Seq+1+int64(i)))
	}
	return all
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
	if !c.HasLedger() {
		return nil, errors.New("the ledger is not at hand")
	}
	r.Happened = c.In.At.UTC()
	m, _, err := c.M.Correct(Ledger(c), c.Entry(r, c.M.Seq+1))
	return m, err
}
