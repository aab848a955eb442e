package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"shopfloat/internal/store"
)

func TestOpenTwice(t *testing.T) {
	ctx := context.Background()
	db, path := open(t)
	_, err := store.Open(ctx, path, morning)
	if !errors.Is(err, store.ErrInUse) {
		t.Fatalf("a second writer: %v", err)
	}
	if reports := verify(t, path); len(reports) != 1 {
		t.Errorf("a reader beside the writer sees %d machines", len(reports))
	}
	ok(t, db.Close())
	db, err = store.Open(ctx, path, morning)
	if err != nil {
		t.Fatalf("after the first has closed: %v", err)
	}
	ok(t, db.Close())
}

func TestOpenOddNames(t *testing.T) {
	for _, name := range []string{"with space.db", "what?.db", "50%25.db", "a#b.db", "käse.db", "file:x.db"} {
		path := filepath.Join(t.TempDir(), name)
		db, err := store.Open(context.Background(), path, morning)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		ok(t, db.Close())
		if _, err := os.Stat(path); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestReadMissing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none.db")
	if _, err := store.OpenReader(context.Background(), path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("reading a missing file: %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("reading made a file")
	}
}

func TestReadForeign(t *testing.T) {
	path := filepath.Join(t.TempDir(), "text.db")
	ok(t, os.WriteFile(path, []byte("this is not a database, whatever its name says"), 0o600))
	if _, err := store.OpenReader(context.Background(), path); err == nil {
		t.Error("a text file was taken for a file of ours")
	}
	if _, err := store.Open(context.Background(), path, morning); err == nil {
		t.Error("a text file was opened for writing")
	}
}

// Settings that did not take effect keep the program from starting.
func TestReadBack(t *testing.T) {
	for name, value := range map[string]string{"synchronous": "NORMAL", "foreign_keys": "0",
		"journal_mode": "DELETE"} {
		db, _ := open(t)
		ok(t, db.Reader().Close())
		if err := db.Set(context.Background(), name, value); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s = %s: %v", name, value, err)
		}
	}
}

func TestTailIsChecked(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	ok(t, db.Close())
	other := plain(t, path)
	_, err := other.Exec(dropTriggers + "DELETE FROM move WHERE seq = 9; DELETE FROM entry WHERE seq = 9")
	ok(t, err)
	ok(t, other.Close())
	var refused *store.Refused
	if _, err := store.Open(context.Background(), path, morning); !errors.As(err, &refused) {
		t.Errorf("a file without its tail, beside its mark: %v", err)
	}
	ok(t, os.Remove(path+".mark"))
	if _, err := store.Open(context.Background(), path, morning); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("a file without its tail: %v", err)
	}
}

// withNext is the program's own migrations and one more.
func withNext(t *testing.T, body string) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	names, err := filepath.Glob("file/migrations/*.sql")
	ok(t, err)
	for _, name := range names {
		data, err := os.ReadFile(name)
		ok(t, err)
		files["migrations/"+filepath.Base(name)] = &fstest.MapFile{Data: data}
	}
	files["migrations/9000_more.sql"] = &fstest.MapFile{Data: []byte(body)}
	return files
}

func TestMigrations(t *testing.T) {
	ctx := context.Background()
	core, err := os.ReadFile("file/migrations/0001_core.sql")
	ok(t, err)
	file := func(body string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(body)} }
	t.Run("next", func(t *testing.T) {
		db, path := open(t)
		ok(t, db.Migrate(ctx, withNext(t, "CREATE TABLE more (x)")))
		ok(t, db.Close())
		for name, open := range map[string]func() error{
			"writer": func() error { _, err := store.Open(ctx, path, morning); return err },
			"reader": func() error { _, err := store.OpenReader(ctx, path); return err },
		} {
			if err := open(); !errors.Is(err, store.ErrSchema) || !strings.Contains(err.Error(), "newer") {
				t.Errorf("%s on a newer schema: %v", name, err)
			}
		}
	})
	t.Run("half done", func(t *testing.T) {
		db, path := open(t)
		err := db.Migrate(ctx, withNext(t, "CREATE TABLE more (x); nonsense"))
		if err == nil {
			t.Fatal("nonsense was taken")
		}
		ok(t, db.Close())
		db, err = store.Open(ctx, path, morning)
		if err != nil {
			t.Fatalf("after a migration that failed: %v", err)
		}
		ok(t, db.Close())
	})
	t.Run("changed", func(t *testing.T) {
		db, _ := open(t)
		err := db.Migrate(ctx, fstest.MapFS{"migrations/0001_core.sql": file(string(core) + "-- changed")})
		if !errors.Is(err, store.ErrSchema) {
			t.Errorf("a migration that reads differently: %v", err)
		}
	})
	t.Run("numbers", func(t *testing.T) {
		db, _ := open(t)
		err := db.Migrate(
			ctx,
			fstest.MapFS{"migrations/0001_core.sql": file(string(core)), "migrations/0003_x.sql": file("")},
		)
		if err == nil {
			t.Error("a gap in the numbers was taken")
		}
	})
}

// A reader needs no writer to have tidied up: what a killed one left is enough.
func TestReaderAfterKill(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	dir := t.TempDir()
	for _, end := range []string{"", "-wal"} { // what a kill leaves, without the index of the log
		data, err := os.ReadFile(path + end)
		ok(t, err)
		ok(t, os.WriteFile(filepath.Join(dir, "shop.db"+end), data, 0o600))
	}
	reports := verify(t, filepath.Join(dir, "shop.db"))
	if len(reports) != 1 || reports[0].Entries != len(day()) || len(reports[0].Faults) > 0 {
		t.Errorf("after a kill: %+v", reports)
	}
}
