package store_test

import (
	"testing"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// A machine that nobody would be reminded of is a fault once somebody laid something down
// for its shop. PlanAll mends it; a plan that there is stays as it is.
func TestUnplanned(t *testing.T) {
	db, path := open(t)
	r, err := store.OpenReader(t.Context(), path)
	ok(t, err)
	t.Cleanup(func() { _ = r.Close() })
	without := func(want int) {
		t.Helper()
		list, err := r.Unplanned(t.Context())
		if err != nil || len(list) != want || want == 1 && (list[0].Machine != 1 || list[0].Shop != 1) {
			t.Errorf("%+v, %v; want %d", list, err, want)
		}
	}
	write := func(at time.Time, fn func(*store.Tx) error) {
		t.Helper()
		tx, err := db.Begin(at)
		ok(t, err)
		ok(t, fn(tx))
		ok(t, tx.Commit())
	}
	without(0) // only written into the file
	write(morning, func(tx *store.Tx) error { return tx.SaveSettings(1, shop.Example()) })
	without(1)
	write(morning, (*store.Tx).PlanAll)
	without(0)
	later := morning.Add(time.Hour)
	write(later, func(tx *store.Tx) error { return tx.PlanMachine(1) })
	if due, is, err := r.NextDue(t.Context()); err != nil || !is || !due.Equal(morning) {
		t.Errorf("planned at %s, %v", due, err)
	}
}
