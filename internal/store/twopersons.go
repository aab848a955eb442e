package store

import (
	"errors"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// ErrOwnClosing means that somebody else has to correct a day: whoever closed it may
// not, where the shop has another manager.
var ErrOwnClosing = errors.New("another manager has to correct what one closed oneself")

// twoPersons refuses what takes two persons when it comes from one, whatever a dialog
// let through. It is a rule for what is written from now on, so it is none of the fold's.
func (t *Tx) twoPersons(m *books.Machine, of shop.ID, by shop.PersonID, r *books.Record) error {
	p := m.Period(r.Period)
	if r.Has(books.Second) && p != nil && p.CountedBy == by {
		return &books.Refusal{Code: books.OwnCount}
	}
	if r.Kind != books.Correction || p != nil && p.Status != books.Closed {
		return nil
	}
	s, err := t.Shop(of)
	if err != nil || len(access.CorrectsFor(&s.Settings, by)) == 0 {
		return err
	}
	closer, err := t.Closer(m.ID, r.Target)
	if err == nil && closer == by {
		err = ErrOwnClosing
	}
	return err
}
