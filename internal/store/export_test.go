package store

import (
	"context"
	"io"
	"io/fs"
	"time"
)

// Migrate runs other migrations than the program's own.
func (db *DB) Migrate(ctx context.Context, files fs.FS) error {
	return db.file.Migrate(ctx, files, time.Unix(0, 0))
}

// Set runs PRAGMA name = value and reads all settings back.
func (db *DB) Set(ctx context.Context, name, value string) error {
	return db.file.Set(ctx, name, value)
}

// SameSalts has all salts be alike, so that files can be compared.
func SameSalts() { lot = nothing{} }

type nothing struct{}

func (nothing) Read(b []byte) (int, error) { clear(b); return len(b), nil }

var _ io.Reader = nothing{}
