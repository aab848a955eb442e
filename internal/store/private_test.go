//go:build unix

package store_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"shopfloat/internal/store"
)

// Whatever the umask, and whoever made a file before: only its owner can read it.
func TestFilesArePrivate(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0))
	folder := t.TempDir()
	path := filepath.Join(folder, "shop.db")
	ok(t, os.Chmod(folder, 0o755))
	ok(t, os.WriteFile(path, nil, 0o666))
	ok(t, os.WriteFile(path+".lock", nil, 0o644))
	ok(t, os.Mkdir(path+".photos", 0o777))
	for range 2 {
		db, err := store.Open(context.Background(), path, morning)
		ok(t, err)
		_, err = store.SavePicture(store.Pictures(path), []byte("picture"))
		ok(t, err)
		all, err := filepath.Glob(filepath.Join(folder, "*"))
		ok(t, err)
		inside, err := filepath.Glob(filepath.Join(path+".photos", "*"))
		ok(t, err)
		for _, name := range append(all, inside...) {
			if info, err := os.Stat(name); err != nil || info.Mode().Perm()&0o077 != 0 {
				t.Errorf("%s: %v, %v", name, info.Mode(), err)
			}
		}
		if len(all) < 4 || len(inside) != 1 {
			t.Errorf("only %v and %v", all, inside)
		}
		ok(t, db.Close())
	}
}

// A link in the place of a file of ours is refused in words that help, and nothing is written through it.
func TestPlantedLinks(t *testing.T) {
	for _, ending := range []string{".lock", "-wal", "-shm", ".mark"} {
		folder := t.TempDir()
		path, target := filepath.Join(folder, "shop.db"), filepath.Join(folder, "target")
		ok(t, os.WriteFile(target, []byte("mine"), 0o600))
		ok(t, os.Symlink(target, path+ending))
		_, err := store.Open(context.Background(), path, morning)
		if !errors.Is(err, store.ErrLinked) || !strings.Contains(err.Error(), path+ending) {
			t.Errorf("%s: %v", ending, err)
		}
		if left, err := os.ReadFile(target); err != nil || !bytes.Equal(left, []byte("mine")) {
			t.Errorf("%s: the target holds %q, %v", ending, left, err)
		}
	}
	folder, elsewhere := t.TempDir(), t.TempDir()
	photos := store.Pictures(filepath.Join(folder, "shop.db"))
	ok(t, os.Symlink(elsewhere, photos))
	if _, err := store.SavePicture(photos, []byte("picture")); !errors.Is(err, store.ErrLinked) {
		t.Errorf("photos: %v", err)
	}
	if left, err := filepath.Glob(filepath.Join(elsewhere, "*")); err != nil || len(left) != 0 {
		t.Errorf("photos: %v, %v", left, err)
	}
}

// In a folder that everybody may change the file could be replaced; in a sticky one it could not.
func TestOpenFolder(t *testing.T) {
	for mode, want := range map[os.FileMode]error{
		0o777: store.ErrExposed, 0o777 | os.ModeSticky: nil, 0o775: nil, 0o700: nil,
	} {
		folder := t.TempDir()
		ok(t, os.Chmod(folder, mode))
		db, err := store.Open(context.Background(), filepath.Join(folder, "shop.db"), morning)
		if !errors.Is(err, want) || want != nil && !strings.Contains(err.Error(), "chmod o-w "+folder) {
			t.Errorf("%v: %v, want %v", mode, err, want)
		}
		if err == nil {
			ok(t, db.Close())
		}
	}
}
