package desk

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk/queue"
	"shopfloat/internal/store"
)

const (
	sendersMax   = 48                     // messages on their way at once: 1,200/s at a round trip of 40 ms
	receiptDelay = 100 * time.Millisecond // how long receipts wait for a commit to ride on
	stopWithin   = 4 * time.Second        // less than serve waits, for what is on its way at the end
	tidyEvery    = time.Minute
	lookEvery    = time.Second // unless a test has days go by
	pruneEvery   = time.Hour
)

// Run sends what is in the outbox until ctx ends, in order within each chat
// and one at a time there. It returns nil then, and an error that wraps
// ErrStop when no message may be sent any more.
func (d *Desk) Run(ctx context.Context, s Sender, p Pace) error {
	if err := d.submit(ctx, &job{}); err != nil {
		return err
	}
	r := &run{desk: d, sender: s, pace: p, free: make(chan struct{}, sendersMax), ready: make(chan parcel)}
	dispatching, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	r.stop = stop
	sending, cut := context.WithCancel(context.WithoutCancel(ctx))
	defer cut()
	r.all.Go(func() { d.housekeep(dispatching) })
	r.all.Go(func() { r.atHalt(dispatching) })
	r.all.Go(func() { d.keepLooking(dispatching) })
	r.dispatch(dispatching, sending)
	defer time.AfterFunc(stopWithin, cut).Stop()
	r.all.Wait()
	err := d.submit(sending, &job{}) // the last receipts
	var doubt *store.Doubt
	if cause := context.Cause(dispatching); errors.Is(cause, ErrStop) || errors.As(cause, &doubt) {
		return cause
	}
	return err
}

// run is one life of the senders.
type run struct {
	desk    *Desk
	sender  Sender
	pace    Pace
	free    chan struct{} // holds a token for every message on its way
	ready   chan parcel   // for a sender that has nothing to do
	senders int           // begun so far
	all     sync.WaitGroup
	stop    context.CancelCauseFunc
}

// parcel is a message to be sent, and the rows that it stands for.
type parcel struct {
	store.Message
	rows []int64
}

// dispatch hands messages out as the pace allows.
func (r *run) dispatch(ctx, sending context.Context) {
	q := r.desk.queue
	defer close(r.ready)
	for {
		select {
		case <-ctx.Done():
			return
		case r.free <- struct{}{}:
		}
		m, rows, wait := q.Take(r.desk.now(), r.pace)
		if rows != nil {
			r.hand(sending, parcel{m, rows})
			continue
		}
		<-r.free
		var timer <-chan time.Time
		if wait > 0 {
			timer = time.After(wait)
		}
		select {
		case <-ctx.Done():
			return
		case <-q.Wake():
		case <-timer:
		}
	}
}

// hand gives a message to a sender. They stay: a goroutine for each message would have to
// grow its stack each time. The caller has a token.
func (r *run) hand(ctx context.Context, p parcel) {
	if r.senders == sendersMax {
		r.ready <- p // one is free, or about to be
		return
	}
	r.senders++
	r.all.Go(func() {
		for more := true; more; p, more = <-r.ready {
			r.desk.deliver(ctx, r.sender, p.Message, p.rows, r.stop)
			<-r.free
		}
	})
}

// deliver sends a message and settles what became of it.
func (d *Desk) deliver(ctx context.Context, s Sender, m store.Message, rows []int64, stop func(error)) {
	id, err := d.send(ctx, s, m)
	now := d.now()
	var later *Later
	switch {
	case err == nil:
		d.queue.Settle(m.Chat, rows, id, 0, now)
	case errors.Is(err, ErrStop):
		stop(err)
		d.queue.Settle(m.Chat, nil, 0, time.Minute, now)
	case errors.Is(err, ErrGone):
		d.log.Warn("chat takes no messages", "outbox", m.ID)
		d.fate(ctx, m, chat.CannotReach)
		d.queue.Gone(m.Chat)
	case errors.Is(err, ErrRefused), now.Sub(m.At) > keepFor:
		d.log.Error("message given up", "outbox", m.ID, "err", err)
		if kind, matters := refused(m.Reply); matters {
			d.fate(ctx, m, kind)
		}
		d.queue.Settle(m.Chat, rows, id, 0, now)
	case errors.As(err, &later):
		d.queue.Settle(m.Chat, nil, 0, later.After, now)
	default:
		d.log.Warn("message not sent yet", "outbox", m.ID, "err", err)
		d.queue.Settle(m.Chat, nil, 0, d.queue.Pause(m.Chat), now)
	}
	d.writeSoon()
}

// send makes the message out of a row and sends it; an edit of a message that
// is gone becomes a new one. The id is the message the row stands for, also
// when it was refused.
func (d *Desk) send(ctx context.Context, s Sender, m store.Message) (int64, error) {
	if len(m.Reply.Link) > 0 {
		if err := d.drawLink(ctx, &m); err != nil {
			return 0, err
		}
	}
	out := Out{ID: m.ID, Chat: m.Chat, Reply: m.Reply}
	var err error
	if out.MessageID, err = d.messageOf(ctx, m.Edits); err != nil {
		return 0, err
	}
	if out.Retired, err = d.messageOf(ctx, m.Retires); err != nil {
		return 0, err
	}
	id, err := s.Send(ctx, out)
	if errors.Is(err, ErrVanished) && out.MessageID != 0 {
		out.MessageID = 0
		id, err = s.Send(ctx, out)
	}
	if errors.Is(err, ErrVanished) {
		err = fmt.Errorf("%w: %w", ErrRefused, err)
	}
	if id == 0 || err != nil {
		id = out.MessageID
	}
	return id, err
}

func (d *Desk) messageOf(ctx context.Context, row int64) (int64, error) {
	if row == 0 {
		return 0, nil
	}
	if id, ok := d.queue.Message(row); ok {
		return id, nil
	}
	return d.reader.MessageID(ctx, row)
}

// writeSoon makes sure that receipts are written even when no other commit
// comes to take them along.
func (d *Desk) writeSoon() {
	if d.flushing.CompareAndSwap(false, true) {
		d.writeAfter(d.commits.Load())
	}
}

// writeAfter writes the receipts unless there has been a commit after the n-th:
// then another one may come.
func (d *Desk) writeAfter(n int64) {
	time.AfterFunc(receiptDelay, func() {
		if now := d.commits.Load(); now != n && len(d.queue.Receipts()) > 0 {
			d.writeAfter(now)
			return
		}
		d.flushing.Store(false)
		if len(d.queue.Receipts()) == 0 {
			return
		}
		if err := d.submit(context.Background(), &job{}); err != nil {
			d.log.Error("receipts are written later", "err", err)
		}
	})
}

// writeReceipts notes what became of messages.
func writeReceipts(t *store.Tx, list []queue.Receipt) error {
	for _, r := range list {
		var err error
		if r.Gone != "" {
			err = t.SetGone(r.Gone, true)
		} else {
			err = t.Sent(r.Row, r.MessageID)
		}
		if err != nil {
			return fmt.Errorf("receipt: %w", err)
		}
	}
	return nil
}

// Owner is a sender that has chats of its own and leaves those of others alone.
type Owner interface{ Owns(chat.Chat) bool }

// Flush sends everything in the outbox now, oldest first over all chats, and
// returns when it is empty. A sender that is an [Owner] gets only what is for
// its chats; the rest stays for whoever serves them. A message that cannot be
// sent ends it with an error.
func (d *Desk) Flush(ctx context.Context, s Sender) error {
	own := func(chat.Chat) bool { return true }
	if o, ok := s.(Owner); ok {
		own = o.Owns
	}
	if err := d.submit(ctx, &job{}); err != nil && d.OnPaper() == nil {
		return err
	}
	var failed error
	for failed == nil {
		m, rows, ok := d.queue.Oldest(own)
		if !ok {
			break
		}
		failed = d.flushOne(ctx, s, m, rows)
	}
	return errors.Join(failed, d.submit(context.WithoutCancel(ctx), &job{}))
}

func (d *Desk) flushOne(ctx context.Context, s Sender, m store.Message, rows []int64) error {
	id, err := d.send(ctx, s, m)
	switch {
	case err == nil, errors.Is(err, ErrRefused):
		d.queue.Settle(m.Chat, rows, id, 0, d.now())
	case errors.Is(err, ErrGone):
		d.queue.Gone(m.Chat)
	default:
		d.queue.Settle(m.Chat, nil, 0, 0, d.now())
		return err
	}
	return nil
}

// housekeep tidies up while nothing else happens. Old rows stay while something
// may come again that they tell of.
func (d *Desk) housekeep(ctx context.Context) {
	tick := time.NewTicker(tidyEvery)
	defer tick.Stop()
	for n := 1; ; n++ { // minutes since old rows went
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		j := &job{tidy: true, prune: n >= int(pruneEvery/tidyEvery) && d.current()}
		if j.prune {
			n = 0
		}
		if err := d.submit(ctx, j); err != nil && ctx.Err() == nil {
			d.log.Error("tidying up failed", "err", err)
		}
	}
}

// keepLooking looks at the file once a second, so that what has become of it is
// known before somebody counts in vain. What was erased leaves the log then, too,
// however busy the shop is.
func (d *Desk) keepLooking(ctx context.Context) {
	tick := time.NewTicker(d.look)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-d.halted:
			return
		case <-tick.C:
			_ = d.submit(ctx, &job{look: true, wipe: true}) // a doubt halts the desk, wherever it comes up
		}
	}
}
