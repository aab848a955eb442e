package store_test

import (
	"context"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// An input that waited is handled after a later one. The newest card of a name is
// then still the one the later input led to: that is what an edit is about, also
// for a program that has read the file anew.
func TestNewestCard(t *testing.T) {
	db, path := open(t)
	edited := func(cause int64) int64 {
		t.Helper()
		var m store.Message
		within(t, db, morning, func(tx *store.Tx) {
			var err error
			m, err = tx.Enqueue(cause, 0, owner, chat.Reply{Edit: "card", Retire: "other"})
			ok(t, err)
		})
		if m.Retires != 0 {
			t.Errorf("cause %d retires row %d of a name that was never sent", cause, m.Retires)
		}
		return m.Edits
	}
	if got := edited(1); got != 0 {
		t.Errorf("nothing was sent yet, and row %d is edited", got)
	}
	newest := int64(0)
	within(t, db, morning, func(tx *store.Tx) {
		for _, cause := range []int64{7, 3} {
			m, err := tx.Enqueue(cause, 0, owner, chat.Reply{Key: "card"})
			ok(t, err)
			newest = max(newest, m.ID)
		}
		_, err := tx.Enqueue(9, 0, "term:staff1", chat.Reply{Key: "card"}) // another chat's
		ok(t, err)
	})
	if got := edited(4); got != newest {
		t.Errorf("row %d is edited, want %d", got, newest)
	}
	ok(t, db.Close())
	var err error
	db, err = store.Open(context.Background(), path, morning)
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	if got := edited(5); got != newest {
		t.Errorf("after a start row %d is edited, want %d", got, newest)
	}
}
