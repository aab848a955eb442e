package store_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// counter is the chat of one of the staff.
const counter = chat.Chat("term:staff1")

// A month is finished once, by somebody who keeps the books; that it was stands in
// the shop's chain, so that a change of it is found.
func TestFinishMonth(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	finish := func(where chat.Chat, month string) error {
		tx, err := db.Begin(morning)
		ok(t, err)
		if err := tx.FinishMonth(where, 1, month); err != nil {
			tx.Rollback()
			return err
		}
		return tx.Commit()
	}
	if err := finish(counter, "2026-11"); err == nil {
		t.Error("staff finish a month")
	}
	ok(t, finish(owner, "2026-11"))
	if err := finish(owner, "2026-11"); err == nil {
		t.Error("a month is finished twice")
	}
	list, err := db.Reader().Finished(t.Context(), 1)
	ok(t, err)
	if len(list) != 1 || list[0].Month != "2026-11" || list[0].Upto[1] != int64(len(day())) ||
		!list[0].At.Equal(morning) {
		t.Errorf("%+v", list)
	}
	faults := func() (all []string) {
		reports, err := db.Reader().Verify(t.Context())
		ok(t, err)
		for _, r := range reports {
			all = append(all, r.Faults...)
		}
		return all
	}
	if got := faults(); len(got) > 0 {
		t.Fatalf("faults %q", got)
	}
	other := plain(t, path)
	if _, err := other.Exec(`UPDATE month SET upto = '{"1":3}'`); err == nil {
		t.Error("a finished month is changed under its guard")
	}
	_, err = other.Exec(`DROP TRIGGER month_update; UPDATE month SET upto = '{"1":3}'`)
	ok(t, err)
	if got := faults(); !slices.ContainsFunc(got, func(s string) bool {
		return strings.Contains(s, "the finished month 2026-11 of shop 1 reads otherwise")
	}) {
		t.Errorf("faults %q", got)
	}
}

// Only who keeps a shop's books has them read, tied and written to.
func TestKeeper(t *testing.T) {
	db, _ := open(t)
	newLedger(t, db).post(day()...)
	tx, err := db.Begin(morning)
	ok(t, err)
	defer tx.Rollback()
	if s, m, err := tx.KeptBooks(counter, 1, nil); s != nil || m != nil || err != nil {
		t.Errorf("staff see the books: %v, %v", m, err)
	}
	if s, m, err := tx.KeptBooks(owner, 1, nil); s == nil || m == nil || err != nil {
		t.Errorf("an owner does not: %v", err)
	}
	if s, _, err := tx.KeptBooks(owner, 99, nil); s != nil || err != nil {
		t.Errorf("books of a machine that is not there: %v", err)
	}
	tie := &chat.Tie{Shops: []shop.ID{1}, Accounts: []string{"a"}}
	if err := tx.Tie(counter, tie); err == nil {
		t.Error("staff tie an account")
	}
	ok(t, tx.Tie(owner, tie))
	s, err := tx.Shop(1)
	if err != nil || !slices.Contains(s.Bank.Accounts, "a") {
		t.Errorf("%+v, %v", s.Bank, err)
	}
	list := []settling.Booking{{Machine: 1, Record: books.Record{Kind: books.Credit, Happened: morning}}}
	if err := tx.PostKept(counter, list, store.By{}, nil); err == nil {
		t.Error("staff book a payment")
	}
}
