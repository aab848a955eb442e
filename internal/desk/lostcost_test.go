//go:build unix

package desk_test

import (
	"context"
	"log/slog"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/desk/watch"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// BenchmarkWatch looks at the next machines of ten thousand shops, each with its plan of a week.
func BenchmarkWatch(b *testing.B) {
	path := b.TempDir() + "/shop.db"
	empty(b, path)
	db, err := store.Open(context.Background(), path, sixOClock)
	ok(b, err)
	defer func() { ok(b, db.Close()) }()
	const many = 10_000
	for from := 0; from < many; from += 1000 {
		list := make([]store.NewShop, 1000)
		for i := range list {
			first := shop.PersonID(3*(from+i) + 1)
			list[i].Settings = shop.ExampleWith(first, first+1, first+2)
		}
		added, err := db.AddShops(sixOClock, list)
		ok(b, err)
		tx, err := db.Begin(sixOClock)
		ok(b, err)
		for _, id := range added {
			s, err := tx.Shop(id)
			ok(b, err)
			for _, d := range reminders.Plan(s, sixOClock) {
				ok(b, tx.SetDeadline(store.Deadline{Machine: s.Machines[0].ID, Name: d.Name.String(), Due: d.At}))
			}
			ok(b, tx.SetDeadline(store.Deadline{Machine: s.Machines[0].ID, Name: chat.PlanGoOn,
				Due: sixOClock.Add(7 * 24 * time.Hour)}))
		}
		ok(b, tx.Commit())
	}
	tx, err := db.Begin(sixOClock.Add(time.Minute))
	ok(b, err)
	defer tx.Rollback()
	var w watch.Watch
	before := checks.Processor(b)
	for b.Loop() {
		ok(b, w.Sweep(tx, slog.New(slog.DiscardHandler)))
	}
	b.ReportMetric(float64(checks.Processor(b)-before)/float64(b.N), "cpu-ns/op")
}
