package store_test

import (
	"errors"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// manned is a shop of which a day is closed, with managers beside the owner, and
// somebody else who comes after whoever closed it.
func manned(t *testing.T, own bool, managers ...shop.PersonID) (l *ledger, closer shop.PersonID) {
	t.Helper()
	db, _ := open(t)
	within(t, db, morning, func(tx *store.Tx) {
		sh, err := tx.Shop(1)
		ok(t, err)
		s := sh.Settings
		s.OwnCorrect = own
		s.People = append([]shop.Person{}, s.People...)
		for i := range s.People {
			for _, m := range managers {
				if s.People[i].ID == m {
					s.People[i].Role = shop.Manager
				}
			}
		}
		ok(t, tx.SaveSettings(1, s))
	})
	l = newLedger(t, db)
	l.post(day()...)
	closer = l.books().Period(1).EndedBy
	if closer == 0 {
		t.Fatal("nobody closed the day: this tries the wrong thing")
	}
	return l, closer
}

// by posts a record of somebody.
func (l *ledger) by(who shop.PersonID, r books.Record) error {
	l.t.Helper()
	tx, err := l.db.Begin(l.now)
	ok(l.t, err)
	defer tx.Rollback()
	r.Happened = l.now
	return tx.Post(1, store.By{Person: who, Settings: 2, Cause: 9000},
		r, func() ([]byte, error) { return make([]byte, 16), nil })
}

// A day is corrected by another manager than closed it, whatever a dialog lets
// through, where the shop has one and does not allow it otherwise; and who is alone
// is stopped by nothing.
func TestOwnClosing(t *testing.T) {
	never := books.Record{Kind: books.Correction, Period: 1, Target: 3, Reason: books.Mistyped}
	l, closer := manned(t, false)
	if err := l.by(closer, never); err != nil {
		t.Errorf("who alone manages: %v", err)
	}
	for _, m := range []shop.PersonID{1, 2, 3} {
		if m != closer {
			l, _ = manned(t, false, m)
			if err := l.by(closer, never); !errors.Is(err, store.ErrOwnClosing) {
				t.Errorf("%d closed the day and corrects it beside manager %d: %v", closer, m, err)
			}
			if err := l.by(m, never); err != nil {
				t.Errorf("%d: %v", m, err)
			}
			l, _ = manned(t, true, m)
			if err := l.by(closer, never); err != nil {
				t.Errorf("where it is allowed: %v", err)
			}
		}
	}
	l, _ = manned(t, false, 2, 3)
	l.post(books.Record{Kind: books.Undo, Period: 1, Target: l.books().Seq}) // the close
	if p := l.books().Period(1); p.Status == books.Closed {
		t.Fatal("the close was not taken back")
	}
	if err := l.by(closer, never); err != nil {
		t.Errorf("of a day that is not closed: %v", err)
	}
}

// A second count is another person's, at the end of a day and after it.
func TestSecondCountByAnother(t *testing.T) {
	db, _ := open(t)
	l := newLedger(t, db)
	l.post(day()[:7]...) // up to the count
	counter := l.books().Period(1).CountedBy
	for _, kind := range []books.Kind{books.Count, books.Spot} {
		r := books.Record{Kind: kind, Period: 1, Marks: []books.Mark{books.Second},
			Figures: boxes(books.Remaining, 30, 108, 80)}
		var refusal *books.Refusal
		if err := l.by(counter, r); !errors.As(err, &refusal) || refusal.Code != books.OwnCount {
			t.Errorf("%s by who counted: %v", kind, err)
		}
		if err := l.by(counter%3+1, r); err != nil {
			t.Errorf("%s by another: %v", kind, err)
		}
	}
	stands := books.Record{Kind: books.Witness, Period: 1, Target: l.books().Period(1).CountSeq}
	var refusal *books.Refusal
	if err := l.by(counter, stands); !errors.As(err, &refusal) || refusal.Code != books.OwnCount {
		t.Errorf("who counted stands by their own count: %v", err)
	}
	stands.Marks = []books.Mark{books.Alone}
	if err := l.by(counter, stands); err != nil {
		t.Errorf("who is alone cannot say so: %v", err)
	}
}
