package desk

import (
	"context"
	"errors"
	"slices"
	"time"

	"shopfloat/internal/store"
)

// keepFor is how long handled rows are kept, and how long a message is tried.
// Ids of updates may be used again after a quiet week, not before.
const keepFor = 48 * time.Hour

// job is what one caller wants to be in a commit. An empty one only wants the
// receipts that wait to be written.
type job struct {
	raws    []Raw
	tick    bool
	prune   bool                  // old rows go
	apply   func(*store.Tx) error // something else that is written
	words   *announcement         // what the program itself says
	look    bool                  // the file is looked at, whether or not anything is written
	tidy    bool                  // the log is emptied, if nothing has happened since it was last asked for
	wipe    bool                  // the log is emptied, if something was erased since
	notices []Notice
	err     error
	done    chan struct{}
}

// submit waits until a job is committed. Whoever comes first commits for all
// that came meanwhile, so that waiting callers share one commit. Once a commit
// has begun it runs to its end, whatever becomes of the caller.
func (d *Desk) submit(ctx context.Context, j *job) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	j.done = make(chan struct{})
	d.mu.Lock()
	d.jobs = append(d.jobs, j)
	d.mu.Unlock()
	select {
	case <-j.done:
	case d.lead <- struct{}{}:
		d.serve()
		<-d.lead
	}
	<-j.done
	return j.err
}

// serve commits all jobs that wait. The caller holds the token.
func (d *Desk) serve() {
	d.mu.Lock()
	jobs := d.jobs
	d.jobs = nil
	d.mu.Unlock()
	if len(jobs) == 0 {
		return
	}
	err := d.work(jobs)
	for _, j := range jobs {
		if err != nil {
			j.err = err
		}
		if j.err != nil {
			d.halt(j.err)
		}
		close(j.done)
	}
}

// work handles jobs. What fails on the way is handled again, one by one,
// before anything newer.
func (d *Desk) work(jobs []*job) error {
	if !d.started {
		if err := d.start(); err != nil {
			return err
		}
	}
	owners := map[int64]owner{}
	if d.backlog {
		if err := d.catchUp(owners, false); err != nil {
			return err
		}
	}
	if !slices.ContainsFunc(jobs, func(j *job) bool { return len(j.raws) > 0 || j.tick }) {
		err := d.writeReceipts()
		d.tidyUp(jobs)
		return err
	}
	var err error
	if d.careful {
		err = d.accept(jobs, owners)
	} else {
		err = d.handle(jobs, owners)
	}
	lost := errors.Is(err, store.ErrLost)
	if lost {
		err = d.accept(jobs, owners)
	}
	if err != nil {
		return err
	}
	for _, j := range jobs {
		d.careful = d.careful && len(j.raws) == 0
	}
	if d.backlog {
		if err := d.catchUp(owners, lost); err != nil {
			d.log.Error("what waits in the inbox is tried again later", "err", err)
		}
	}
	d.tidyUp(jobs)
	return nil
}

// tidyUp does what else is wanted. What fails of it fails that job alone: what
// the others brought is written by now.
func (d *Desk) tidyUp(jobs []*job) {
	for _, j := range jobs {
		if j.look {
			j.err = d.store.Look(context.Background())
		}
		if j.apply != nil {
			j.err = d.transact(func(b *batch) error { return j.apply(b.tx) })
		}
		if j.words != nil && j.err == nil {
			j.err = d.transact(func(b *batch) error { return b.announce(j.words) })
		}
		if j.prune && j.err == nil {
			j.err = d.transact(func(b *batch) error {
				return errors.Join(b.tx.Prune(b.tx.Now().Add(-keepFor)), b.tx.ForgetMissed())
			})
		}
		if j.tidy && j.err == nil {
			j.err = d.emptyLog()
		}
		if j.wipe && j.err == nil && d.erased {
			j.err = d.wipeLog()
		}
	}
}

// emptyLog empties the log when nothing has happened since it was asked to the last time.
func (d *Desk) emptyLog() error {
	n := d.commits.Load()
	if n == d.truncated {
		return nil
	}
	if n != d.tidied {
		d.tidied = n
		return nil
	}
	return d.wipeLog()
}

// wipeLog empties the log now. It waits for nobody: with a reader in the way it is
// tried again, see [Desk.keepLooking].
func (d *Desk) wipeLog() error {
	done, err := d.store.Truncate()
	if done {
		d.truncated, d.erased = d.commits.Load(), false
	}
	return err
}

// start looks at what the last run left: messages to send, and work in the inbox.
func (d *Desk) start() error {
	t, err := d.store.Begin(d.now())
	if err != nil {
		return err
	}
	unsent, err := d.recall(t)
	if err == nil {
		err = t.PlanAll()
	}
	if err != nil {
		t.Rollback()
		return err
	}
	if err := t.Commit(); err != nil {
		return err
	}
	d.queue.Add(unsent)
	d.started, d.backlog = true, true
	return nil
}

// recall reads what is not sent yet. It is tried as if it were new: the clock
// may have jumped, and after a start the network may not be there at once.
func (d *Desk) recall(t *store.Tx) (_ []store.Message, err error) {
	if d.latest, err = t.Newest(); err != nil {
		return nil, err
	}
	unsent, err := t.Unsent()
	for i := range unsent {
		if t.Now().After(unsent[i].At) {
			unsent[i].At = t.Now()
		}
	}
	return unsent, err
}

// writeReceipts writes the receipts that wait, if there are any.
func (d *Desk) writeReceipts() error {
	if len(d.queue.Receipts()) == 0 {
		return nil
	}
	return d.transact(func(*batch) error { return nil })
}

// transact runs fn in one transaction together with the receipts that wait,
// and hands the messages it gives to the senders once they are durable.
func (d *Desk) transact(fn func(*batch) error) error {
	receipts, latest := d.queue.Receipts(), d.latest
	t, err := d.store.Begin(d.now())
	if err != nil {
		return err
	}
	if t.Now().After(d.latest) {
		d.latest = t.Now()
	}
	b := &batch{desk: d, tx: t}
	err = fn(b)
	if err == nil {
		err = writeReceipts(t, receipts)
	}
	if err != nil {
		d.latest = latest // the next one is to find out, too, that the clock went back
		t.Rollback()
		return d.afterLoss(err)
	}
	if err := t.Commit(); err != nil {
		d.latest = latest
		return err
	}
	d.commits.Add(1)
	d.queue.Written(len(receipts))
	d.erased = d.erased || b.erased
	if len(b.dropped) > 0 {
		for _, drop := range b.dropped {
			d.queue.Drop(drop.chat)
		}
		b.messages = b.live()
	}
	d.inputs.Add(int64(len(b.heard)))
	d.records.Add(int64(b.records))
	d.hear(b.heard)
	d.queue.Add(b.messages)
	return nil
}

// afterLoss gets a new connection where err says that the transaction is gone.
func (d *Desk) afterLoss(err error) error {
	if !errors.Is(err, store.ErrLost) {
		return err
	}
	d.log.Error("transaction lost", "err", err)
	return errors.Join(err, d.store.Reopen())
}
