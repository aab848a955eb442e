//go:build linux

package store_test

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

// A power cut at any operation takes nothing back that was confirmed, and of
// what was not confirmed it leaves all or nothing.
func TestPowerCut(t *testing.T) {
	if lost, broken := cutOften(t, checks.Size(t, 30, 300, 20_000), "FULL"); lost != 0 || broken != 0 {
		t.Errorf("confirmed records lost in %d cuts, ledgers broken in %d", lost, broken)
	}
}

// The test above can fail: with less syncing, confirmed records are lost.
func TestPowerCutBites(t *testing.T) {
	if lost, _ := cutOften(t, 40, "NORMAL"); lost == 0 {
		t.Error("nothing is ever lost, which cannot be")
	}
}

// cutOften cuts the power of many days at random operations, and tells in how
// many a confirmed record was lost or the ledger did not hold together.
func cutOften(t *testing.T, runs int, synchronous string) (lost, broken int) {
	if testing.Short() {
		runs /= 5
	}
	db, path := open(t)
	ok(t, db.Close())
	template, err := os.ReadFile(path)
	ok(t, err)
	watchDisk(t)
	inFlight := 0
	for seed := range seeds(t, runs) {
		dir, after := t.TempDir(), t.TempDir()
		path := filepath.Join(dir, "shop.db")
		ok(t, os.WriteFile(path, template, 0o600))
		disk := newCutDisk(dir, seed, 1+rand.New(rand.NewPCG(seed, 2)).IntN(300))
		disk.know(path)
		confirmed := dayUntilCut(t, path, synchronous)
		disk.cut()
		disk.leave(t, after)
		theDisk.cutDisk = nil
		rep := verify(t, filepath.Join(after, "shop.db"))[0]
		if rep.Entries < confirmed {
			lost++
		}
		if len(rep.Faults) > 0 || rep.Entries > confirmed+1 {
			broken++
			t.Logf("cut %d: %d confirmed, %+v", seed, confirmed, rep)
		}
		if rep.Entries == confirmed+1 {
			inFlight++
		}
	}
	t.Logf(
		"%s: %d cuts, %d lost something confirmed, %d kept what was under way",
		synchronous,
		runs,
		lost,
		inFlight,
	)
	return lost, broken
}

// dayUntilCut writes record after record until the disk takes no more, and
// tells how many were confirmed.
func dayUntilCut(t *testing.T, path, synchronous string) (confirmed int) {
	t.Helper()
	ctx := context.Background()
	db, err := store.Open(ctx, path, morning)
	if err != nil {
		return 0
	}
	defer func() { _ = db.Close() }()
	_ = db.Set(ctx, "synchronous", synchronous) // reading it back fails for the mutant
	_ = db.Set(ctx, "wal_autocheckpoint", "20") // the log goes round several times
	l := newLedger(t, db)
	for n := range 60 {
		r := books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)}
		if n > 0 {
			r = books.Record{Kind: books.TopUp, Period: 1, Figures: boxes(books.Added, 1, 1, 1)}
		}
		r.Happened = morning.Add(time.Duration(n) * time.Minute)
		tx, err := db.Begin(r.Happened)
		if err != nil {
			return confirmed
		}
		err = tx.Post(1, store.By{Person: 1, Settings: 1, Cause: int64(n + 1)}, r, l.salt)
		if err != nil {
			tx.Rollback()
			return confirmed
		}
		if tx.Commit() != nil {
			return confirmed
		}
		confirmed++
	}
	return confirmed
}
