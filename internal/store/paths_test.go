package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"shopfloat/internal/store"
)

// Two names of one file are one file: for the lock, and for what is kept beside it.
func TestLinkedFile(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		name string
		made bool // the file is there before the link is used
	}{{"a link to a file", true}, {"a link to a file that is not there yet", false}} {
		t.Run(c.name, func(t *testing.T) {
			folder, elsewhere := t.TempDir(), t.TempDir()
			path, link := filepath.Join(folder, "shop.db"), filepath.Join(elsewhere, "link.db")
			ok(t, os.Symlink(path, link))
			if c.made {
				db, err := store.Open(ctx, path, morning)
				ok(t, err)
				ok(t, db.Close())
			}
			db, err := store.Open(ctx, link, morning)
			ok(t, err)
			defer func() { _ = db.Close() }()
			if _, err := store.Open(ctx, path, morning); !errors.Is(err, store.ErrInUse) {
				t.Errorf("a second writer by the other name: %v", err)
			}
			if a, b := store.Pictures(path), store.Pictures(link); a != b {
				t.Errorf("photos in %s and in %s", a, b)
			}
			left, err := filepath.Glob(filepath.Join(elsewhere, "*"))
			ok(t, err)
			if len(left) != 1 {
				t.Errorf("beside the link: %v", left)
			}
			if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
				t.Errorf("the file: %v, %v", info, err)
			}
		})
	}
}

func TestLinkedFolder(t *testing.T) {
	folder, elsewhere := t.TempDir(), t.TempDir()
	for _, link := range []string{"one", "two"} {
		ok(t, os.Symlink(folder, filepath.Join(elsewhere, link)))
	}
	ok(t, os.Symlink("two/later.db", filepath.Join(elsewhere, "link.db"))) // relative, and not there yet
	want := store.Beside(filepath.Join(folder, "later.db"), ".x")
	for _, name := range []string{"one/later.db", "two/later.db", "link.db"} {
		if got := store.Beside(filepath.Join(elsewhere, name), ".x"); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	none := filepath.Join(folder, "none", "x.db")
	if got := store.Beside(none, ".x"); got != none+".x" {
		t.Errorf("without a folder: %s", got)
	}
	if _, err := store.Open(context.Background(), none, morning); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("without a folder: %v", err)
	}
}
