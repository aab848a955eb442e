package desk

import (
	"context"
	"errors"
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/settling"
	"shopfloat/internal/store"
)

// FetchedStatement notes the digest of a statement's file.
func (d *Desk) FetchedStatement(ctx context.Context, id int64, digest []byte) error {
	return d.submit(ctx, &job{apply: func(t *store.Tx) error { return t.FetchedStatement(id, digest) }})
}

// ReadStatement takes in what is in a statement, nil when the file cannot be had.
// A kill in between has it read again, and taken once.
func (d *Desk) ReadStatement(ctx context.Context, s store.Statement, r *settling.Reading) error {
	_, err := d.Take(ctx, []Raw{{Source: "statement", Key: fmt.Sprintf("%d %d", s.ID, s.Turn),
		Input: chat.Input{Chat: s.Chat, Kind: chat.Read, Statement: s.ID, Reading: r, At: d.now()}}})
	if err != nil {
		return err
	}
	return d.submit(ctx, &job{apply: func(t *store.Tx) error { return t.ReadStatement(s.ID, s.Turn) }})
}

// statement has a statement read, and remembers what was said of a bank.
func (b *batch) statement(in chat.Input, f *chat.Facts, res *chat.Result) (err error) {
	if res.Read != nil {
		err = b.tx.AskFor(in.Chat, f.Shop.ID, f.Person.ID, res.Read)
	}
	if res.Tie != nil {
		err = errors.Join(err, b.tx.Tie(in.Chat, res.Tie))
	}
	return err
}
