package desk

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/trust"
)

// answer adds to what a step says what people are told of what it did with the
// name of another. It stands here and not in a dialog, so that none can forget it.
func (b *batch) answer(in chat.Input, before, after chat.Facts, res *chat.Result) {
	defer func() { b.cut = nil }()
	if after.Shop == nil {
		return
	}
	whose := func(phone chat.Chat) shop.PersonID {
		a, _ := b.tx.AccountIn(phone, after.Shop.ID) // nobody's where there is none
		return a.Person
	}
	for _, e := range slices.Concat(trust.Changed(before, after, res),
		trust.Ordered(in, before, res, b.cut, whose)) {
		for _, r := range b.desk.event(e, after) {
			if !trust.Said(res.Replies, r.To) {
				res.Replies = append(res.Replies, r)
			}
		}
	}
}

// fated tells whom it concerns what became of a message or a photo. Nothing is
// said if that cannot be delivered either.
func (b *batch) fated(cause int64, in chat.Input, f chat.Facts) error {
	e := chat.Event{Kind: chat.EventKind(in.Text), Person: f.Person.ID}
	if e.Kind == chat.CannotReach {
		gone, err := b.tx.Gone(in.Chat)
		if err != nil || gone {
			return err // told already
		}
		if err := b.tx.SetGone(in.Chat, true); err != nil {
			return err
		}
	}
	if e.Kind == chat.PhotoLost {
		seq, err := strconv.ParseInt(in.What, 10, 64)
		if err == nil {
			e.Person, err = b.tx.By(f.Machine.ID, seq)
		}
		if err != nil {
			return fmt.Errorf("photo: %w", err)
		}
	}
	replies := b.desk.event(e, f)
	for i := range replies {
		replies[i].Last = true
	}
	return b.enqueue(cause, in.Chat, f, replies)
}

// fate takes in what became of a message, so that whom it concerns is told.
func (d *Desk) fate(ctx context.Context, m store.Message, kind chat.EventKind) {
	if m.Reply.Last {
		return
	}
	_, err := d.Take(ctx, []Raw{{Source: "fate", Key: string(kind) + " " + itoa(m.ID),
		Input: chat.Input{Chat: m.Chat, Kind: chat.Fate, Text: string(kind), At: d.now()}}})
	if err != nil {
		d.log.Error("nobody is told what became of a message", "outbox", m.ID, "err", err)
	}
}

// refused says what it means that the chat server does not take a message.
func refused(r chat.Reply) (kind chat.EventKind, matters bool) {
	if len(r.Body) > 0 {
		return chat.NotDelivered, true
	}
	return chat.NotDeleted, r.Delete != 0 // a menu of commands is left as it was
}

// LosePicture notes that a photo cannot be had, and tells whoever sent it.
func (d *Desk) LosePicture(ctx context.Context, p store.Picture) error {
	if err := d.KeepPicture(ctx, p, nil); err != nil {
		return err
	}
	where := chat.MachineChat(p.Machine)
	_, err := d.Take(ctx, []Raw{{Source: "fate", Key: fmt.Sprintf("photo %d %d %d", p.Machine, p.Seq, p.N),
		Machine: p.Machine, Input: chat.Input{Chat: where, Kind: chat.Fate, Text: string(chat.PhotoLost),
			What: itoa(p.Seq), At: d.now()}}})
	return err
}
