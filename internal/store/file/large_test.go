package file_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/store/file"
)

var morning = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)

// A large file that somebody wrote into, behind its newest rows, is read while the bot goes
// on; what is wrong stops the writing, and nothing is said of a sound one.
func TestLargeFileWrittenTo(t *testing.T) {
	file.SetQuickMax(1 << 12)
	defer file.SetQuickMax(50 << 20)
	ctx := context.Background()
	for _, damaged := range []bool{false, true} {
		path := filepath.Join(t.TempDir(), "shop.db")
		db, err := file.Open(ctx, path, morning, func(file.Query) error { return nil }, false)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Truncate(); err != nil {
			t.Fatal(err)
		}
		page, err := rootOf(db, "owing") // which nobody reads who wants the newest rows
		if err == nil {
			err = touch(path, page, damaged)
		}
		if err != nil {
			t.Fatal(err)
		}
		var doubt *file.Doubt
		looks := 20
		if damaged {
			looks = 2000 // until it is found
		}
		for err = nil; err == nil && looks > 0; looks-- {
			err = db.Look(ctx)
			time.Sleep(5 * time.Millisecond)
		}
		if errors.As(err, &doubt) != damaged || damaged && !strings.Contains(doubt.What, "it is damaged") {
			t.Errorf("damaged %t: %v", damaged, err)
		}
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	}
}

// rootOf is the number of a table's first page.
func rootOf(db *file.DB, table string) (page int64, err error) {
	tx, err := db.Begin(morning)
	if err != nil {
		return 0, err
	}
	defer tx.Rollback()
	err = tx.One("SELECT rootpage FROM sqlite_schema WHERE name = ?", []any{table}, &page)
	return page, err
}

// touch writes a page of a file as it is, or with its head turned.
func touch(path string, number int64, damage bool) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	page := make([]byte, 4096)
	at := (number - 1) * int64(len(page))
	if _, err := f.ReadAt(page, at); err != nil {
		return err
	}
	if damage {
		for i := range page[:200] {
			page[i] ^= 0xff
		}
	}
	_, err = f.WriteAt(page, at)
	return errors.Join(err, f.Close())
}
