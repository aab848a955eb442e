package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/store"
)

// A file of another program is refused in words, and neither it nor its folder
// is changed.
func TestForeignFile(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct{ name, sql string }{
		{"other tables", "CREATE TABLE song (title TEXT); INSERT INTO song VALUES ('x')"},
		{"other tables in the same mode", "PRAGMA journal_mode = WAL; CREATE TABLE song (title TEXT)"},
		{"a table of the same name", "CREATE TABLE migration (version INTEGER)"},
		{"another program's mark", "PRAGMA application_id = 7; CREATE TABLE song (title TEXT)"},
		{"another program's mark alone", "PRAGMA application_id = 7"},
		{"our mark without our tables", "PRAGMA application_id = 1936221804; CREATE TABLE song (title TEXT)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "songs.db")
			other := plain(t, path)
			_, err := other.Exec(c.sql)
			ok(t, err)
			ok(t, other.Close())
			refused(ctx, t, path)
		})
	}
	t.Run("a text", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "text.db")
		ok(
			t,
			os.WriteFile(path, []byte(strings.Repeat("this is not a database, whatever its name says", 99)), 0o600),
		)
		refused(ctx, t, path)
	})
}

func refused(ctx context.Context, t *testing.T, path string) {
	t.Helper()
	before, err := os.ReadFile(path)
	ok(t, err)
	want := path + " is not a shopfloat file; name another file"
	db, err := store.Open(ctx, path, morning)
	if !errors.Is(err, store.ErrForeign) || err.Error() != want {
		t.Errorf("writer: %v", err)
	}
	if err == nil {
		_ = db.Close()
	}
	after, err := os.ReadFile(path)
	ok(t, err)
	left, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	ok(t, err)
	if string(before) != string(after) || len(left) != 1 {
		t.Errorf("the file was changed, or its folder: %v", left)
	}
	if _, err := store.OpenReader(ctx, path); !errors.Is(err, store.ErrForeign) || err.Error() != want {
		t.Errorf("reader: %v", err)
	}
}

// An empty file is good for a new start, but there is nothing in it to read.
func TestEmptyFile(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "empty.db")
	ok(t, os.WriteFile(path, nil, 0o600))
	if _, err := store.OpenReader(ctx, path); !errors.Is(err, store.ErrForeign) {
		t.Errorf("reader: %v", err)
	}
	db, err := store.Open(ctx, path, morning)
	ok(t, err)
	ok(t, db.Close())
	var id int
	ok(t, plain(t, path).QueryRow("PRAGMA application_id").Scan(&id))
	if id != 1936221804 {
		t.Errorf("mark %d", id)
	}
}

// A file from before files were marked is one of ours, and is marked.
func TestUnmarkedFile(t *testing.T) {
	db, path := open(t)
	ok(t, db.Close())
	other := plain(t, path)
	_, err := other.Exec("PRAGMA application_id = 0")
	ok(t, err)
	ok(t, other.Close())
	db, err = store.Open(context.Background(), path, morning)
	ok(t, err)
	ok(t, db.Close())
}
