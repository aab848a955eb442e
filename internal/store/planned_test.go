package store_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
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

// A machine that has deadlines but none that plans the others would fall silent after the last
// of them, and is planned at a start. One whose plan was to go on long before the newest record was
// left behind by a bot that ran; a bot that was down recorded nothing, and its plan is good however
// old it is.
func TestPlanLeftBehind(t *testing.T) {
	l := newLedger(t, nil)
	db, path := open(t)
	l.db = db
	r, err := store.OpenReader(t.Context(), path)
	ok(t, err)
	t.Cleanup(func() { _ = r.Close() })
	set := func(name string, at time.Time) {
		t.Helper()
		tx, err := db.Begin(l.now)
		ok(t, err)
		ok(t, tx.SetDeadline(store.Deadline{Machine: 1, Name: name, Due: at}))
		ok(t, tx.Commit())
	}
	overdue := func(want ...time.Time) {
		t.Helper()
		list, err := r.Unplanned(t.Context())
		ok(t, err)
		if len(list) != len(want) || len(want) > 0 && !list[0].Overdue.Equal(want[0]) {
			t.Errorf("%+v; want %v", list, want)
		}
	}
	tx, err := db.Begin(l.now)
	ok(t, err)
	ok(t, tx.SaveSettings(1, shop.Example()))
	ok(t, tx.Commit())
	set("due:2026-01-06:opening", morning.Add(24*time.Hour))
	overdue() // it lasts for a day; a start mends that nothing plans what comes after
	tx, err = db.Begin(l.now)
	ok(t, err)
	ok(t, tx.PlanAll())
	ok(t, tx.Commit())
	if due, is, err := r.NextDue(t.Context()); err != nil || !is || !due.Equal(l.now) {
		t.Errorf("planned at %s, %v", due, err)
	}
	set(chat.PlanAgain, time.Time{})
	goOn := morning.Add(7 * 24 * time.Hour)
	set(chat.PlanGoOn, goOn)
	overdue()
	l.settings = 2
	opening := books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)}
	topUp := books.Record{Kind: books.TopUp, Period: 1, Figures: boxes(books.Added, 0, 50, 0)}
	l.now = goOn.Add(23 * time.Hour)
	l.post(opening)
	overdue() // within a day: what was waiting comes in before the first look
	l.now = goOn.Add(25 * time.Hour)
	l.post(topUp)
	overdue(goOn)
	set(chat.PlanGoOn, l.now.Add(7*24*time.Hour))
	overdue()
}
