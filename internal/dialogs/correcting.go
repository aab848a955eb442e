package dialogs

import (
	"errors"
	"slices"

	"shopfloat/internal/books"
)

// correct writes a correction and takes it into the books at hand, so that the
// rest of the step sees what follows from it.
func (c *talk) correct(r books.Record) error {
	m, err := c.corrected(r)
	if err != nil {
		return err
	}
	r.Happened = c.in.At.UTC()
	c.m = m
	c.Records = append(c.Records, r)
	return nil
}

// corrected gives the books as they would be with a correction.
func (c *talk) corrected(r books.Record) (*books.Machine, error) {
	if !c.hasLedger() {
		return nil, errors.New("the ledger is not at hand")
	}
	r.Happened = c.in.At.UTC()
	entries := c.ledger()
	m, _, err := c.m.Correct(entries, c.entry(r, c.m.Seq+1))
	return m, err
}

// ledger is the machine's ledger with what this step recorded so far.
func (c *talk) ledger() []books.Entry {
	all := c.f.Ask.Entries()
	for i, r := range c.Records {
		all = append(all[:len(all):len(all)], c.entry(r, c.before().Seq+1+int64(i)))
	}
	return all
}

func (c *talk) entry(r books.Record, seq int64) books.Entry {
	return books.Entry{Record: r, Machine: c.State.Machine, Seq: seq, By: c.f.Person.ID,
		Settings: c.f.Shop.Version, Recorded: c.in.At.UTC()}
}

// original finds a record of the ledger as it holds now: as it was written, or
// as the last correction put it.
func (c *talk) original(seq int64) (books.Entry, bool) {
	all := c.ledger()
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

// correctionWord says which record a correction is about, why it was made, and
// that nothing holds in its place where that is so.
func (c *talk) correctionWord(b books.Brief) string {
	id := "history.instead"
	if len(b.Figures)+len(b.Moves) == 0 && !told(b.Amounts) {
		id = "history.taken-back"
	}
	word := c.v.Say(id, "n", b.Target, "why", c.v.Say("reason."+string(b.Reason)))
	for i, a := range b.Amounts {
		if a.Field == books.Was && i+1 < len(b.Amounts) && !c.hidden() {
			word += " " + c.v.Say("history.difference", "before", c.v.Money(a.Value), "after",
				c.v.Money(b.Amounts[i+1].Value))
		}
	}
	return word
}

// tellCorrected tells the managers that an earlier record was corrected.
func (c *talk) tellCorrected(r books.Record) {
	c.managers(text(c.v.Say("told.corrected"),
		c.v.Say("told.corrected-by", "who", c.f.Person.Name, "n", r.Target,
			"why", c.v.Say("reason."+string(r.Reason)))))
}

// told reports whether amounts tell more than how a difference changed.
func told(list []books.Amount) bool {
	return slices.ContainsFunc(list, func(a books.Amount) bool {
		return a.Field != books.Was &&
			a.Field != books.Difference
	})
}
