package store

import (
	"context"
	"fmt"
	"io/fs"
	"time"
)

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
