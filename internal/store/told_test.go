package store_test

import (
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// Who was told of a name is whoever it went out to: what waits does not count, nor what was
// given up; an edit is no message of its own.
func TestArrived(t *testing.T) {
	db, _ := open(t)
	write := func(at time.Time, fn func(*store.Tx) error) {
		t.Helper()
		tx, err := db.Begin(at)
		ok(t, err)
		ok(t, fn(tx))
		ok(t, tx.Commit())
	}
	var ids []int64
	send := func(at time.Time, r chat.Reply, arrives int64) {
		t.Helper()
		write(at, func(tx *store.Tx) error {
			m, err := tx.Enqueue(int64(len(ids)+1), 0, owner, r)
			ids = append(ids, m.ID)
			if err != nil || arrives < 0 {
				return err
			}
			return tx.Sent(m.ID, arrives)
		})
	}
	want := func(times int, last time.Time) {
		t.Helper()
		write(morning, func(tx *store.Tx) error {
			n, at, err := tx.Arrived(owner, "due")
			if n != times || !at.Equal(last) {
				t.Errorf("%d times, last %s; want %d, %s", n, at, times, last)
			}
			return err
		})
	}
	at := func(minutes int) time.Time { return morning.Add(time.Duration(minutes) * time.Minute) }
	want(0, time.Time{})
	send(at(1), chat.Reply{Key: "due"}, -1)
	send(at(2), chat.Reply{Key: "due"}, 0)
	want(0, time.Time{})
	send(at(3), chat.Reply{Key: "due"}, 71)
	send(at(4), chat.Reply{Key: "other"}, 72)
	want(1, at(3))
	send(at(5), chat.Reply{Edit: "due", Key: "due"}, 71)
	want(1, at(5))
	send(at(6), chat.Reply{Key: "due"}, 73)
	want(2, at(6))
}
