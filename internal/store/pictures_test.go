package store_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/store"
)

// pictured writes an entry with so many photos and gives what is to be fetched.
func pictured(t *testing.T, db *store.DB, photos int) []store.Picture {
	t.Helper()
	r := books.Record{Kind: books.Attachment}
	for i := range photos {
		r.Photos = append(r.Photos, books.Photo{ID: fmt.Sprint("f", i), Unique: fmt.Sprint("u", i)})
	}
	newLedger(t, db).post(r)
	list := unfetched(t, db)
	if len(list) != photos {
		t.Fatalf("to be fetched: %+v", list)
	}
	return list
}

func unfetched(t *testing.T, db *store.DB) []store.Picture {
	t.Helper()
	list, err := db.Reader().Unfetched(context.Background())
	ok(t, err)
	return list
}

func keep(t *testing.T, db *store.DB, p store.Picture, digest []byte) {
	t.Helper()
	within(t, db, morning, func(tx *store.Tx) { ok(t, tx.KeepPicture(p, digest)) })
}

// A photo waits until it is known what became of it; verify says which are not
// here, and finds fault with one that was here and is not or was changed.
func TestPictures(t *testing.T) {
	db, path := open(t)
	list := pictured(t, db, 3)
	folder := store.Pictures(path)
	digest, err := store.SavePicture(folder, []byte("slip"))
	ok(t, err)
	keep(t, db, list[0], digest)
	keep(t, db, list[1], nil)
	keep(t, db, list[1], digest) // what became of it is known: nothing changes
	if left := unfetched(t, db); len(left) != 1 || left[0] != list[2] || left[0].ID != "f2" {
		t.Errorf("left %+v", left)
	}
	report := verify(t, path)[0]
	const want = "photo 1 of entry 1 could not be fetched\nphoto 2 of entry 1 is still to be fetched"
	if got := strings.Join(report.Absent, "\n"); got != want || len(report.Faults) != 0 {
		t.Errorf("absent %q, faults %q", got, report.Faults)
	}
	file := filepath.Join(folder, hex.EncodeToString(digest))
	ok(t, os.WriteFile(file, []byte("another slip"), 0o600))
	if got := strings.Join(verify(t, path)[0].Faults, "\n"); got != "photo 0 of entry 1 was changed" {
		t.Errorf("after a change: %q", got)
	}
	ok(t, os.Remove(file))
	if got := strings.Join(verify(t, path)[0].Faults,
		"\n"); got != "photo 0 of entry 1 is missing from shop.db.photos" {
		t.Errorf("after it was taken away: %q", got)
	}
}

// An erased photo is neither fetched nor missed, but it is said that it is gone.
func TestErasedPicture(t *testing.T) {
	db, path := open(t)
	list := pictured(t, db, 2)
	keep(t, db, list[0], make([]byte, sha256.Size))
	_, err := plain(t, path).Exec("UPDATE attachment SET salt = NULL, photo = NULL, same = NULL")
	ok(t, err)
	report := verify(t, path)[0]
	gone := len(report.Faults) == 2 && strings.Contains(report.Faults[1], "was taken out")
	if left := unfetched(t, db); len(left) != 0 || len(report.Absent) != 0 || !gone {
		t.Errorf("left %+v, %+v", left, report)
	}
}

// What an end in the middle of writing left goes, and nothing else.
func TestTidyPictures(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "shop.db.photos")
	ok(t, store.TidyPictures(folder)) // none yet
	_, err := store.SavePicture(folder, []byte("slip"))
	ok(t, err)
	again, err := store.SavePicture(folder, []byte("slip"))
	ok(t, err)
	ok(t, os.WriteFile(filepath.Join(folder, "new-1"), []byte("sl"), 0o600))
	ok(t, store.TidyPictures(folder))
	names, err := os.ReadDir(folder)
	ok(t, err)
	if len(names) != 1 || names[0].Name() != hex.EncodeToString(again) {
		t.Errorf("the folder holds %v", names)
	}
	if _, err := store.SavePicture(filepath.Join(folder, "no", "such"), nil); err == nil {
		t.Error("saved where there is no folder")
	}
}

// A file from before photos were fetched has all of its photos waiting.
func TestPicturesOfAnOlderFile(t *testing.T) {
	db, path := open(t)
	list := pictured(t, db, 2)
	keep(t, db, list[0], nil)
	ok(t, db.Close())
	old := plain(t, path)
	_, err := old.Exec(
		`DROP TRIGGER unfetched_begun; DROP TRIGGER unfetched_erased; DROP TRIGGER unfetched_ended;
		DROP TRIGGER attachment_update; DROP TRIGGER attachment_delete; DROP TRIGGER attachment_insert;
		DROP TABLE unfetched; DROP TABLE claim; DROP TABLE owing; DROP TABLE checkpoint; DROP TABLE learnt;
		DROP TABLE shop_entry; DROP TABLE statement; DROP TABLE month; DROP TABLE missed; DROP TABLE phrase;
		ALTER TABLE person DROP COLUMN mark; ALTER TABLE account DROP COLUMN mark;
		ALTER TABLE machine DROP COLUMN fold; DELETE FROM migration WHERE number >= 4;
		INSERT INTO inbox (id, source, key, at, status) VALUES (9, 'x', 'x', 0, 1)`,
	)
	ok(t, err)
	ok(t, old.Close())
	db, err = store.Open(context.Background(), path, morning)
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	if left := unfetched(t, db); len(left) != 1 || left[0] != list[1] {
		t.Errorf("left %+v", left)
	}
}
