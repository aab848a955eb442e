package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A link to the file leads to the mark of the file.
func TestAliveMarkOfALink(t *testing.T) {
	folder := t.TempDir()
	file, link := filepath.Join(folder, "shop.db"), filepath.Join(t.TempDir(), "link.db")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, link); err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)
	if err := aliveMark(link).set(at); err != nil {
		t.Fatal(err)
	}
	if got := aliveMark(file).last(); got.IsZero() {
		t.Error("the mark set by the link is not that of the file")
	}
}
