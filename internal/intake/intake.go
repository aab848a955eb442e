// Package intake fetches and reads what people send as files, outside the one
// goroutine that commits: a file may take seconds, and a tap must not wait for it.
// What it finds goes back as an input like any other.
package intake

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/gather"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// MaxFile is the largest statement that is read in a chat: what the platform hands out.
const MaxFile = 20 << 20

// ErrNever is returned by a [Statements.Fetch] for a file that will not come by trying again.
var ErrNever = errors.New("the file cannot be had")

// From fetches what lies in a folder. What is not there cannot be had, like what the chat
// server has lost.
func From(folder string) func(ctx context.Context, name string) ([]byte, error) {
	return func(_ context.Context, name string) ([]byte, error) {
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrNever, err)
		}
		return data, nil
	}
}

// Desk is what the readings go to.
type Desk interface {
	FetchedStatement(ctx context.Context, id int64, digest []byte) error
	ReadStatement(ctx context.Context, s store.Statement, r *settling.Reading) error
}

// Source is where the books of shops are read.
type Source interface {
	gather.Source
	Unread(ctx context.Context) ([]store.Statement, error)
	Keeps(ctx context.Context, where chat.Chat) ([]shop.ID, error)
}

// Statements reads the statements that people sent.
type Statements struct {
	Desk   Desk
	Source Source
	Folder string // where files lie by their digest
	Fetch  func(ctx context.Context, id string) ([]byte, error)
	Log    *slog.Logger
	Now    func() time.Time

	later Tries[int64]
}

// Look fetches and reads every statement that waits. One that does not come holds
// up no other.
func (s *Statements) Look(ctx context.Context) error {
	list, err := s.Source.Unread(ctx)
	if err != nil {
		return err
	}
	if s.later == nil {
		s.later = Tries[int64]{}
	}
	for _, x := range list {
		if ctx.Err() != nil || !s.later.Ready(x.ID, s.Now()) {
			continue
		}
		switch err := s.one(ctx, x); {
		case err == nil:
			delete(s.later, x.ID)
		case ctx.Err() == nil:
			wait := s.later.Failed(x.ID, s.Now())
			s.Log.Warn("a statement is read later", "statement", x.ID, "in", wait, "why", err)
		}
	}
	return nil
}

// one reads a statement, and fetches it before where that was not done yet. The
// file is durable before its digest is noted.
func (s *Statements) one(ctx context.Context, x store.Statement) error {
	if x.Digest == nil {
		data, err := s.Fetch(ctx, x.Photo.ID)
		if errors.Is(err, ErrNever) {
			s.Log.Info("a statement cannot be had", "statement", x.ID, "why", err)
			return s.Desk.ReadStatement(ctx, x, nil)
		}
		if err != nil {
			return err
		}
		if x.Digest, err = store.SavePicture(s.Folder, data); err == nil {
			err = s.Desk.FetchedStatement(ctx, x.ID, x.Digest)
		}
		if err != nil {
			return err
		}
	}
	data, err := os.ReadFile(filepath.Join(s.Folder, hex.EncodeToString(x.Digest)))
	if errors.Is(err, os.ErrNotExist) {
		return s.Desk.ReadStatement(ctx, x, nil)
	}
	if err != nil {
		return fmt.Errorf("statement %d: %w", x.ID, err)
	}
	machines, err := s.machines(ctx, x.Chat)
	if err != nil {
		return err
	}
	r := settling.Read(bytes.NewReader(data), int64(len(data)), MaxFile, x.Want, machines)
	return s.Desk.ReadStatement(ctx, x, r)
}

// machines are those of all shops whose books the person of a chat keeps.
func (s *Statements) machines(ctx context.Context, where chat.Chat) (list []settling.Machine, err error) {
	keeps, err := s.Source.Keeps(ctx, where)
	if err != nil || len(keeps) == 0 {
		return nil, err
	}
	id := shop.ID(0)
	if len(keeps) == 1 {
		id = keeps[0]
	}
	err = gather.Each(ctx, s.Source, id, func(sh *shop.Shop, kit *shop.Machine, entries []books.Entry) error {
		if !slices.Contains(keeps, sh.ID) {
			return nil
		}
		m, err := books.History(kit.ID, entries)
		list = append(list, settling.Machine{Shop: sh, ID: kit.ID, Books: m})
		return err
	})
	if errors.Is(err, gather.ErrNone) {
		err = nil
	}
	return list, err
}
