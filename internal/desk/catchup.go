package desk

import (
	"errors"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/store"
)

// catchUp handles what waits in the inbox until nothing does, the oldest row
// of each chat first. The attempt is committed before it is made, so that a
// row that ends the program is parked the third time. With single set every
// row has a transaction of its own.
func (d *Desk) catchUp(owners map[int64]owner, single bool) error {
	for d.backlog {
		rows, err := d.begin()
		if err != nil {
			return err
		}
		if len(rows) == 0 {
			d.backlog = false
			return nil
		}
		if single {
			err = d.eachAlone(rows, owners)
		} else if err = d.together(rows, owners); errors.Is(err, store.ErrLost) {
			d.log.Error("transaction lost", "err", err)
			if err = d.store.Reopen(); err == nil {
				err = d.eachAlone(rows, owners)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// begin parks the rows that have been tried often enough, counts an attempt on
// the oldest of each chat, and gives these.
func (d *Desk) begin() (rows []store.Row, err error) {
	err = d.transact(func(b *batch) error {
		all, err := b.tx.Waiting()
		if err != nil {
			return err
		}
		seen := map[dialogs.Chat]bool{}
		for _, r := range all {
			if seen[r.Input.Chat] {
				continue
			}
			if r.Attempts >= attemptsMax || r.Input.Chat == "" {
				if err := b.park(r); err != nil {
					return err
				}
				continue
			}
			seen[r.Input.Chat] = true
			if err := b.tx.Attempted(r.ID); err != nil {
				return err
			}
			r.Attempts++
			rows = append(rows, r)
		}
		return nil
	})
	return rows, err
}

func (d *Desk) together(rows []store.Row, owners map[int64]owner) error {
	return d.transact(func(b *batch) error {
		for _, r := range rows {
			if err := b.retry(r, owners); err != nil {
				return err
			}
		}
		return nil
	})
}

func (d *Desk) eachAlone(rows []store.Row, owners map[int64]owner) error {
	for _, r := range rows {
		err := d.together([]store.Row{r}, owners)
		if errors.Is(err, store.ErrLost) {
			d.logFailure(err, "inbox", r.Attempts)
			err = d.store.Reopen()
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// retry handles a waiting row; a failure leaves it waiting.
func (b *batch) retry(r store.Row, owners map[int64]owner) error {
	had := len(b.messages)
	var notice string
	err := b.tx.Try(func() (err error) {
		if notice, err = b.follow(r.ID, r.Work); err != nil {
			return err
		}
		return b.tx.Done(r.ID)
	})
	switch {
	case errors.Is(err, store.ErrLost):
		return err
	case err != nil:
		b.messages = b.messages[:had]
		b.desk.logFailure(err, "inbox", r.Attempts)
	case notice != "":
		if o, ok := owners[r.ID]; ok {
			o.job.notices = append(o.job.notices, Notice{o.key, notice})
		}
	}
	return nil
}

// park gives a row up, tells the person in one sentence and the managers.
func (b *batch) park(r store.Row) error {
	b.desk.log.Error("parked", "inbox", r.ID, "attempts", r.Attempts)
	if err := b.tx.GiveUp(r.ID); err != nil {
		return err
	}
	if r.Input.Chat == "" {
		return nil
	}
	facts, _, err := b.facts(r.Work)
	if err != nil {
		b.desk.log.Error("parked without a word", "inbox", r.ID, "err", err)
		return nil
	}
	if facts.Shop == nil {
		return nil
	}
	return b.enqueue(r.ID, r.Input.Chat, facts, b.desk.parked(r.Input, facts))
}

// logFailure never says what a person wrote.
func (d *Desk) logFailure(err error, source string, attempt int) {
	var p *store.Panic
	if errors.As(err, &p) {
		d.log.Error("step failed", "source", source, "attempt", attempt, "err", err, "stack", string(p.Stack))
		return
	}
	d.log.Error("step failed", "source", source, "attempt", attempt, "err", err)
}
