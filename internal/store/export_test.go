package store

import (
	"context"
	"fmt"
	"io/fs"
	"time"
)

// Fail makes fn decide before every statement whether it fails.
func (db *DB) Fail(fn func(query string) error) { db.fault = fn }

// LoseTransaction ends the transaction behind the back of whoever is in it, as
// a full disk or a cancelled statement may.
func (db *DB) LoseTransaction() error {
	_, err := db.c.ExecContext(context.Background(), "ROLLBACK")
	return err
}

// Migrate runs other migrations than the program's own.
func (db *DB) Migrate(ctx context.Context, files fs.FS) error {
	return migrate(ctx, db.c, files, time.Unix(0, 0))
}

// Set runs PRAGMA name = value and reads all settings back.
func (db *DB) Set(ctx context.Context, name, value string) error {
	if _, err := db.c.ExecContext(ctx, fmt.Sprintf("PRAGMA %s = %s", name, value)); err != nil {
		return err
	}
	return readBack(ctx, db.c)
}
