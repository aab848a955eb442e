package store

import (
	"errors"
	"fmt"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
)

// errNotKept is of a shop whose books the person of a chat does not keep.
var errNotKept = errors.New("the speaker does not keep the books of that shop")

// Keeper gives a shop whose books the person of a chat keeps, and who they are
// there; ok is false when they do not.
func (t *Tx) Keeper(where chat.Chat, id shop.ID) (s *shop.Shop, who shop.PersonID, ok bool) {
	a, err := t.AccountIn(where, id)
	if err != nil || a.Frozen || a.Shared {
		return nil, 0, false
	}
	if s, err = t.Shop(id); err != nil {
		return nil, 0, false
	}
	p, ok := s.Person(a.Person)
	return s, p.ID, ok && access.Keeping.Has(p.Acts())
}

// KeptBooks gives a machine with claims at hand, to whoever keeps its books; else nil.
func (t *Tx) KeptBooks(where chat.Chat, id shop.MachineID, of []int64) (*shop.Shop, *books.Machine, error) {
	m, in, err := t.Machine(id)
	if err != nil {
		return nil, nil, nil // no such machine, as far as anybody is told
	}
	s, _, ok := t.Keeper(where, in)
	if !ok {
		return nil, nil, nil
	}
	if len(of) == 0 {
		return s, m, nil
	}
	claims, err := t.Claims(id, dues.Wanted{Of: of})
	return s, m.With(claims), err
}

// PostKept writes records for machines of any shop that the person of a chat keeps
// the books of. by has their cause and the number of the first.
func (t *Tx) PostKept(where chat.Chat, list []settling.Booking, by By, salts func() ([]byte, error)) error {
	for n, r := range list {
		_, of, err := t.Machine(r.Machine)
		if err != nil {
			return err
		}
		s, who, ok := t.Keeper(where, of)
		if !ok {
			return errNotKept
		}
		as := By{Person: who, Settings: s.Version, Cause: by.Cause, N: by.N + n}
		if err := t.Post(r.Machine, as, r.Record, salts); err != nil {
			return err
		}
	}
	return nil
}

// AskFor has a statement read: a new one, or one that the chat sent before.
func (t *Tx) AskFor(where chat.Chat, of shop.ID, person shop.PersonID, r *chat.ToRead) error {
	if r.Statement == 0 {
		return t.AddStatement(Statement{Chat: where, Shop: of, Photo: r.Photo, Want: r.Want}, person)
	}
	return t.AskStatement(r.Statement, where, r.Want)
}

// FinishMonth keeps the figures of a month of a shop: what is in the ledgers of its
// machines now.
func (t *Tx) FinishMonth(where chat.Chat, id shop.ID, month string) error {
	s, who, ok := t.Keeper(where, id)
	if !ok {
		return fmt.Errorf("shop %d: %w", id, errNotKept)
	}
	f := shop.Finished{Month: month, By: who, Upto: map[shop.MachineID]int64{}}
	for _, kit := range s.Machines {
		m, _, err := t.Machine(kit.ID)
		if err != nil {
			return err
		}
		f.Upto[kit.ID] = m.Seq
	}
	t.ActAs(who)
	defer t.ActAs(0)
	return t.People.FinishMonth(id, f)
}

// Tie remembers what was said of a bank's statements in the settings of shops.
func (t *Tx) Tie(where chat.Chat, tie *chat.Tie) error {
	for _, id := range tie.Shops {
		s, who, ok := t.Keeper(where, id)
		if !ok {
			return fmt.Errorf("shop %d: %w", id, errNotKept)
		}
		next := s.Settings
		for _, account := range tie.Accounts {
			next.Bank = next.Bank.With(account)
		}
		if tie.Table != nil {
			next.Bank = next.Bank.Knowing(*tie.Table)
		}
		next.By = who
		if err := t.SaveSettings(id, next); err != nil {
			return err
		}
	}
	return nil
}
