package store_test

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// dueAtOnce is how many deadlines are due in the sweep that is measured.
const dueAtOnce = 500

// planned makes a file with so many machines, each with a week and a day of
// deadlines as they are planned (three a day), of which dueAtOnce are due.
func planned(tb testing.TB, shops int) (*store.DB, string) {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "sweep.db")
	db, err := store.Open(context.Background(), path, morning)
	ok(tb, err)
	tb.Cleanup(func() { _ = db.Close() })
	const batch = 1000
	for from := 0; from < shops; from += batch {
		tx, err := db.Begin(morning)
		ok(tb, err)
		for i := from; i < min(from+batch, shops); i++ {
			for d := range 24 {
				at := morning.Add(time.Duration(d)*8*time.Hour + time.Hour + time.Duration(i)*time.Millisecond)
				if d == 0 && i%(shops/dueAtOnce) == 0 && i/(shops/dueAtOnce) < dueAtOnce {
					at = morning.Add(-time.Duration(i) * time.Millisecond)
				}
				ok(tb, tx.SetDeadline(store.Deadline{Machine: shop.MachineID(i + 1), Due: at,
					Name: fmt.Sprintf("due:2026-01-%02d:%s", 5+d/3, []string{"opening", "closing", "unclosed"}[d%3])}))
			}
		}
		ok(tb, tx.Commit())
	}
	return db, path
}

// A sweep reads an index that holds all it needs: it never looks at a row that
// is not due. How it is done is SQLite's own word.
func TestSweepReadsWhatIsDue(t *testing.T) {
	db, path := planned(t, 1000)
	tx, err := db.Begin(morning)
	ok(t, err)
	defer tx.Rollback()
	due, err := tx.Due()
	ok(t, err)
	if len(due) != dueAtOnce {
		t.Errorf("%d deadlines are due, want %d", len(due), dueAtOnce)
	}
	for i := 1; i < len(due); i++ {
		if due[i].Due.Before(due[i-1].Due) {
			t.Fatalf("%v comes after %v", due[i], due[i-1])
		}
	}
	var id, parent, unused int
	var how string
	ok(t, plain(t, path).QueryRow(`EXPLAIN QUERY PLAN SELECT machine, name, due_at FROM deadline
		WHERE due_at <= 0 ORDER BY due_at, machine, name`).Scan(&id, &parent, &unused, &how))
	if !strings.Contains(how, "SEARCH deadline USING COVERING INDEX") {
		t.Errorf("the sweep is done by %q", how)
	}
}

// BenchmarkSweep reads 500 deadlines that are due among 24 a shop.
func BenchmarkSweep(b *testing.B) {
	for _, shops := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprint(shops), func(b *testing.B) {
			db, _ := planned(b, shops)
			tx, err := db.Begin(morning)
			ok(b, err)
			defer tx.Rollback()
			before := checks.Processor(b)
			for b.Loop() {
				due, err := tx.Due()
				ok(b, err)
				if len(due) != dueAtOnce {
					b.Fatalf("%d due", len(due))
				}
			}
			b.ReportMetric(float64(checks.Processor(b)-before)/float64(b.N), "cpu-ns/op")
		})
	}
}
