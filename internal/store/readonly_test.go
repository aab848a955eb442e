package store_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/store"
)

// A file that was closed is read where nothing can be written beside it; of one
// that was not closed it is said what to do.
func TestReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser writes into any folder")
	}
	db, path := open(t)
	newLedger(t, db).post(day()...)
	file, err := os.ReadFile(path)
	ok(t, err)
	log, err := os.ReadFile(path + "-wal")
	ok(t, err)
	ok(t, db.Close())
	folder := filepath.Dir(path)
	ok(t, os.Chmod(folder, 0o500))
	t.Cleanup(func() { _ = os.Chmod(folder, 0o700) })
	if rep := verify(t, path)[0]; len(rep.Faults) > 0 || rep.Entries != len(day()) {
		t.Errorf("report %+v", rep)
	}
	ok(t, os.Chmod(folder, 0o700))
	ok(t, os.WriteFile(path, file, 0o600))
	ok(t, os.WriteFile(path+"-wal", log, 0o600))
	ok(t, os.Chmod(folder, 0o500))
	_, err = store.OpenReader(context.Background(), path)
	if err == nil || !strings.Contains(err.Error(), "copy it and "+path+"-wal into a folder of your own") {
		t.Errorf("a file that was not closed: %v", err)
	}
}
