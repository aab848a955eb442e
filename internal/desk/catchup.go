package desk

import (
	"errors"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// catchUp handles what waits in the inbox until nothing does, the oldest row
// of each chat first. The attempt is committed before it is made, so that a
// row that ends the program is parked the third time. With single set every
// row has a transaction of its own.
func (d *Desk) catchUp(owners map[int64]owner, single bool) error {
	for d.backlog {
		rows, left, err := d.begin()
		if err != nil {
			return err
		}
		if d.backlog = left > 0; len(rows) == 0 {
			continue
		}
		if single {
			err = d.eachAlone(rows, owners)
		} else if err = d.together(rows, owners); errors.Is(err, store.ErrLost) {
			err = d.eachAlone(rows, owners)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// begin parks the rows that have been tried often enough and counts an attempt
// on those that are next, which it gives: of each chat the oldest row that has
// never been tried, or else the oldest of all that have. Those are tried alone,
// so that one that ends the program takes no other with it. left is how many
// rows wait, these among them.
func (d *Desk) begin() (rows []store.Row, left int, err error) {
	err = d.transact(func(b *batch) error {
		all, err := b.tx.Waiting()
		if err != nil {
			return err
		}
		fresh, suspect, parked, err := b.sort(all)
		if err != nil {
			return err
		}
		rows, left = fresh, len(all)-parked
		if len(rows) == 0 && len(suspect) > 0 {
			rows = suspect[:1]
		}
		for i := range rows {
			rows[i].Attempts++
			if err := b.tx.Attempted(rows[i].ID); err != nil {
				return err
			}
		}
		return nil
	})
	return rows, left, err
}

// sort tells rows that have never been tried from those that have, the oldest
// of each chat only, and parks the others that need it.
func (b *batch) sort(all []store.Row) (fresh, suspect []store.Row, parked int, err error) {
	seen := map[chat.Chat]bool{}
	for _, r := range all {
		switch {
		case seen[r.Input.Chat]:
			continue
		case r.Attempts >= attemptsMax || r.Input.Chat == "":
			done, err := b.park(r)
			if err != nil {
				return nil, nil, 0, err
			}
			if done {
				parked++
				continue
			}
		case r.Attempts == 0:
			fresh = append(fresh, r)
		default:
			suspect = append(suspect, r)
		}
		seen[r.Input.Chat] = true
	}
	return fresh, suspect, parked, nil
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
		if err != nil && !errors.Is(err, store.ErrLost) {
			return err
		}
	}
	return nil
}

// retry handles a waiting row; a failure leaves it waiting.
func (b *batch) retry(r store.Row, owners map[int64]owner) error {
	had, dropped := len(b.messages), len(b.dropped)
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
		b.takeBack(had, dropped)
		b.desk.logFailure(err, "inbox", r.Attempts)
	case notice != "":
		if o, ok := owners[r.ID]; ok {
			o.job.notices = append(o.job.notices, Notice{o.key, notice})
		}
	}
	return nil
}

// park gives a row up, tells the person in one sentence and the managers. When
// that fails it is tried again a few times, and then given up without a word.
func (b *batch) park(r store.Row) (done bool, err error) {
	had, dropped := len(b.messages), len(b.dropped)
	err = b.tx.Try(func() error {
		if err := b.tx.GiveUp(r.ID); err != nil || r.Attempts >= 2*attemptsMax {
			return err
		}
		return b.tellParked(r)
	})
	switch {
	case errors.Is(err, store.ErrLost):
		return false, err
	case err != nil:
		b.takeBack(had, dropped)
		b.desk.logFailure(err, "parking", r.Attempts)
		return false, b.tx.Attempted(r.ID)
	}
	b.desk.givenUp.Add(1)
	b.desk.log.Error("parked", "inbox", r.ID, "attempts", r.Attempts)
	return true, nil
}

func (b *batch) tellParked(r store.Row) error {
	if r.Input.Chat == "" {
		return nil
	}
	facts, _, err := b.facts(r.Work)
	if err != nil || facts.Shop == nil {
		return err
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
