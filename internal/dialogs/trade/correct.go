package trade

import (
	"errors"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
)

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
	entries := Ledger(c)
	m, _, err := c.M.Correct(entries, c.Entry(r, c.M.Seq+1))
	return m, err
}

// TellCorrected tells the managers that an earlier record was corrected.
func TellCorrected(c *engine.Talk, r books.Record) {
	c.Managers(engine.Text(c.V.Say("told.corrected"),
		c.V.Say("told.corrected-by", "who", c.F.Person.Name, "n", r.Target,
			"why", c.V.Say("reason."+string(r.Reason)))))
}
