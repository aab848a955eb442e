package store_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"testing"

	"shopfloat/internal/store"
)

// A file from before names stood apart keeps its accounts and names, its
// settings still verify, and a name can be erased from then on.
func TestNamesOfAnOlderFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "old.db")
	core, err := os.ReadFile("file/migrations/0001_core.sql")
	ok(t, err)
	sum := sha256.Sum256(core)
	old := plain(t, path)
	for _, query := range []string{
		"PRAGMA journal_mode = WAL",
		`CREATE TABLE migration (number INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL, checksum TEXT NOT NULL,
			applied INTEGER NOT NULL) STRICT`,
		string(core),
		"INSERT INTO migration VALUES (1, 'core', '" + hex.EncodeToString(sum[:]) + "', 0)",
		`INSERT INTO settings VALUES (1, 1, 0, ` +
			`'{"name":"Old","zone":"UTC","currency":"EUR","people":[{"id":7,"name":"Ada",` +
			`"role":"owner"}]}', zeroblob(32))`,
		"INSERT INTO account VALUES ('term:owner', 1, 7)",
	} {
		_, err := old.Exec(query)
		ok(t, err)
	}
	ok(t, old.Close())
	db, err := store.Open(context.Background(), path, morning)
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	within(t, db, morning, func(tx *store.Tx) {
		if a, err := tx.Account(owner); err != nil || a.Shop != 1 || a.Person != 7 {
			t.Errorf("account %+v, %v", a, err)
		}
		if s, err := tx.Shop(1); err != nil || s.People[0].Name != "Ada" {
			t.Errorf("shop %+v, %v", s, err)
		}
		ok(t, tx.EraseName(1, 7))
		if s, err := tx.Shop(1); err != nil || s.People[0].Name != "" {
			t.Errorf("after erasing: %+v, %v", s, err)
		}
	})
}
