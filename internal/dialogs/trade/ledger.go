package trade

import (
	"errors"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dues"
)

// Ledger is the machine's ledger from a record on, with what this step recorded so far.
func Ledger(c *engine.Talk, seq int64) []books.Entry { return recorded(c, c.F.Ask.Since(seq)) }

// Back gives the books before all that a correction changes, and the ledger since then.
func Back(c *engine.Talk, r books.Record) (*books.Machine, []books.Entry) {
	from := r.ChangesFrom()
	for _, x := range c.Records {
		if x.Kind == books.Correction {
			from = min(from, x.ChangesFrom())
		}
	}
	then, since := c.Back(from)
	return then, recorded(c, since)
}

func recorded(c *engine.Talk, all []books.Entry) []books.Entry {
	for i, r := range c.Records {
		all = append(all[:len(all):len(all)], c.Entry(r, c.Before().Seq+1+int64(i)))
	}
	return all
}

// RemindAgain plans the reminders of what the bank owes anew: sums and due dates may be others now.
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
// rest of the step sees what follows from it. More than is left then is not given up.
func Correct(c *engine.Talk, r books.Record) error {
	m, err := Corrected(c, r)
	if err != nil {
		return err
	}
	r.Happened = c.In.At.UTC()
	c.Records = append(c.Records, c.Entry(r, m.Seq).Record)
	c.M = m
	if back := dues.Overgiven(m.Claims); len(back) > 0 {
		_, err = c.Record(books.Record{Kind: books.WriteOff, Reason: r.Reason, Words: r.Words, Parts: back})
	}
	return err
}

// Corrected gives the books as they would be with a correction.
func Corrected(c *engine.Talk, r books.Record) (*books.Machine, error) {
	if !c.HasLedger() {
		return nil, errors.New("the ledger is not at hand")
	}
	r.Happened = c.In.At.UTC()
	then, since := Back(c, r)
	m, _, err := c.M.CorrectOn(then, since, c.Entry(r, c.M.Seq+1))
	return m, err
}
