//go:build linux

package store_test

import (
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

// A power cut leaves of each input either all of what it led to, or nothing: the
// row of the inbox, the messages it leads to, the state of its chat. What was
// confirmed is there. Reads that fail meanwhile take nothing with them.
func TestPowerCutOfTheQueues(t *testing.T) {
	template := seededTemplate(t)
	watchDisk(t)
	kept := 0
	for seed := range seeds(t, checks.Size(t, 20, 150, 2_500)) {
		dir, after := t.TempDir(), t.TempDir()
		path := filepath.Join(dir, "shop.db")
		ok(t, os.WriteFile(path, template, 0o600))
		random := rand.New(rand.NewPCG(seed, 7))
		disk := newCutDisk(dir, seed, 1+random.IntN(300))
		disk.know(path)
		confirmed := inputsUntilCut(path, disk, seed%3 == 2)
		disk.cut()
		disk.leave(t, after)
		theDisk.cutDisk = nil
		rows, fault := looked(filepath.Join(after, "shop.db"))
		if fault != nil || rows < confirmed || rows > confirmed+1 {
			t.Errorf("cut %d: %d inputs confirmed, %d there, %v", seed, confirmed, rows, fault)
		}
		kept += confirmed
	}
	t.Logf("%d inputs confirmed in all", kept)
}

func seededTemplate(t *testing.T) []byte {
	t.Helper()
	db, path := open(t)
	ok(t, db.Close())
	data, err := os.ReadFile(path)
	ok(t, err)
	return data
}

// inputsUntilCut takes inputs as the desk does, some kept for later and handled
// then, until the disk takes no more, and gives how many were confirmed.
func inputsUntilCut(path string, disk *cutDisk, badReads bool) (confirmed int) {
	ctx := context.Background()
	db, err := store.Open(ctx, path, morning)
	if err != nil {
		return 0
	}
	defer func() { _ = db.Close() }()
	_ = db.Set(ctx, "wal_autocheckpoint", "20") // the log goes round several times
	if badReads {
		disk.mu.Lock()
		disk.readFails = 40
		disk.mu.Unlock()
	}
	failures := 0
	for n := 1; n <= 60 && failures < 20; n++ {
		switch err := oneInput(db, n, confirmed); {
		case err == nil:
			confirmed++
		case badReads:
			failures++
			if db.Reopen() != nil {
				failures++
			}
		default:
			return confirmed
		}
	}
	return confirmed
}

// oneInput is a commit: every third input waits first and is handled in a
// second one, which counts as the confirming one.
func oneInput(db *store.DB, n, confirmed int) error {
	a := store.Arrival{Source: "test", Key: fmt.Sprint(n), Chat: owner}
	tx, err := db.Begin(morning)
	if err != nil {
		return err
	}
	id, fresh := int64(0), false
	if n%3 == 0 {
		id, fresh, err = tx.Wait(a, store.Work{Input: chat.Input{Chat: owner}}, 0)
		if err = errors.Join(err, tx.Attempted(id)); err == nil {
			err = tx.Commit()
		} else {
			tx.Rollback()
		}
		if err != nil {
			return err
		}
		if tx, err = db.Begin(morning); err != nil {
			return err
		}
		err = tx.Done(id)
	} else {
		id, fresh, err = tx.Handled(a)
	}
	if err == nil && fresh {
		err = tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Rev: confirmed + 1})
	}
	for m := 0; err == nil && m < 2; m++ {
		_, err = tx.Enqueue(id, m, owner, chat.Reply{Body: []chat.Block{{Text: "question"}}})
	}
	if err != nil {
		tx.Rollback()
		return err
	}
	return tx.Commit()
}

// looked gives how many inputs are handled, and what does not belong together.
func looked(path string) (rows int, err error) {
	db, err := store.Open(context.Background(), path, morning)
	if err != nil {
		return 0, err
	}
	defer func() { _ = db.Close() }()
	tx, err := db.Begin(morning)
	if err != nil {
		return 0, err
	}
	defer tx.Rollback()
	state, err := tx.State(owner)
	if err != nil {
		return 0, err
	}
	unsent, err := tx.Unsent()
	if err != nil {
		return 0, err
	}
	messages := map[int64]int{}
	for _, m := range unsent {
		messages[m.ID/1024]++
	}
	for id, n := range messages {
		if n != 2 {
			return 0, fmt.Errorf("input %d led to %d of 2 messages", id, n)
		}
	}
	if state.Rev != len(messages) {
		return 0, fmt.Errorf("the state has seen %d inputs, the outbox %d", state.Rev, len(messages))
	}
	return len(messages), nil
}

// A power cut in the middle of bringing an earlier program's file up to date
// leaves a file that the next start brings up to date, with all that was in it.
func TestPowerCutOfMigrations(t *testing.T) {
	const fixture = "../../testdata/files/corner.db.gz"
	packed, err := os.Open(fixture)
	ok(t, err)
	defer func() { _ = packed.Close() }()
	unpacked, err := gzip.NewReader(packed)
	ok(t, err)
	data, err := io.ReadAll(unpacked)
	ok(t, err)
	whole := filepath.Join(t.TempDir(), "shop.db")
	ok(t, os.WriteFile(whole, data, 0o600))
	want := upToDate(t, whole)
	watchDisk(t)
	for seed := range seeds(t, checks.Size(t, 6, 40, 2_500)) {
		dir, after := t.TempDir(), t.TempDir()
		path := filepath.Join(dir, "shop.db")
		ok(t, os.WriteFile(path, data, 0o600))
		disk := newCutDisk(dir, seed, 1+rand.New(rand.NewPCG(seed, 8)).IntN(120))
		disk.know(path)
		if db, err := store.Open(context.Background(), path, morning); err == nil {
			_ = db.Close()
		}
		disk.cut()
		disk.leave(t, after)
		theDisk.cutDisk = nil
		if got := upToDate(t, filepath.Join(after, "shop.db")); got != want {
			t.Errorf("cut %d: after the next start %s, want %s", seed, got, want)
		}
	}
}

// A power cut while a file is made leaves none, or one that is good for a start.
func TestPowerCutOfANewFile(t *testing.T) {
	watchDisk(t)
	made := 0
	for seed := range seeds(t, checks.Size(t, 12, 40, 2_500)) {
		dir, after := t.TempDir(), t.TempDir()
		disk := newCutDisk(dir, seed, 1+rand.New(rand.NewPCG(seed, 8)).IntN(60))
		if db, err := store.Open(context.Background(), filepath.Join(dir, "shop.db"), morning); err == nil {
			_ = db.Close()
		}
		disk.cut()
		disk.leave(t, after)
		theDisk.cutDisk = nil
		if info, err := os.Stat(filepath.Join(after, "shop.db")); err == nil && info.Size() > 0 {
			made++
		}
		if got := upToDate(t, filepath.Join(after, "shop.db")); got != "" {
			t.Errorf("cut %d: after the next start %s", seed, got)
		}
	}
	if made == 0 {
		t.Error("no file was made before the power was cut")
	}
}

// upToDate starts a program on a file and tells what is in it.
func upToDate(t *testing.T, path string) (told string) {
	t.Helper()
	db, err := store.Open(context.Background(), path, morning)
	if err != nil {
		return err.Error()
	}
	ok(t, db.Close())
	for _, rep := range verify(t, path) {
		told += fmt.Sprintf("machine %d: %d entries, %x, faults %v; ", rep.Machine, rep.Entries, rep.Head,
			rep.Faults)
	}
	return told
}
