package file

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"
	"time"
)

// migrationFiles are the migrations, and newFile: what they come to.
//
//go:embed migrations/*.sql schema.sql
var migrationFiles embed.FS

// newFile is what the migrations make of an empty file, as one script: run one after the other
// they take three times as long. Its test holds it against them, and writes it.
const newFile = "schema.sql"

type migration struct {
	number   int
	name     string
	checksum string
	body     string
}

// migrations reads the numbered files in order: 0001_core.sql is number 1. A
// number may be left out.
func migrations(files fs.FS) ([]migration, error) {
	names, err := fs.Glob(files, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	var list []migration
	last := 0
	for _, name := range names {
		body, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		number, rest, _ := strings.Cut(path.Base(name), "_")
		n, err := strconv.Atoi(number)
		if err != nil || n <= last {
			return nil, fmt.Errorf("migration %s does not follow number %d", name, last)
		}
		last = n
		sum := sha256.Sum256(body)
		list = append(list, migration{
			number: n, name: strings.TrimSuffix(rest, ".sql"),
			checksum: hex.EncodeToString(sum[:]), body: string(body),
		})
	}
	return list, nil
}

const createMigration = `CREATE TABLE IF NOT EXISTS migration (
	number INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL, checksum TEXT NOT NULL, applied INTEGER NOT NULL
) STRICT`

// migrate brings the schema up to date, one transaction a migration, and all of them for an empty
// file. A file made by a newer program, or by migrations that read differently, is refused.
func migrate(ctx context.Context, c *sql.Conn, files fs.FS, now time.Time) error {
	list, err := migrations(files)
	if err != nil {
		return err
	}
	empty, err := recognise(ctx, c)
	if err != nil {
		return err
	}
	if all, err := fs.ReadFile(files, newFile); empty && err == nil {
		return apply(ctx, c, string(all), list, now)
	}
	if _, err := c.ExecContext(ctx, createMigration); err != nil {
		return fmt.Errorf("migrations: %w", err)
	}
	have, err := checkMigrations(ctx, c, list)
	if err != nil {
		return err
	}
	for _, m := range list[have:] {
		if err := apply(ctx, c, m.body, []migration{m}, now); err != nil {
			return fmt.Errorf("migration %d %s: %w", m.number, m.name, err)
		}
	}
	return nil
}

// checkMigrations compares what a file has been through with what is known,
// and tells how many migrations it has behind it.
func checkMigrations(ctx context.Context, c *sql.Conn, list []migration) (have int, err error) {
	rows, err := c.QueryContext(ctx, "SELECT number, checksum FROM migration ORDER BY number")
	if err != nil {
		return 0, fmt.Errorf("migrations: %w", err)
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var number int
		var checksum string
		if err := rows.Scan(&number, &checksum); err != nil {
			return 0, err
		}
		have++
		switch {
		case have > len(list):
			return 0, fmt.Errorf("%w: a newer version of it made migration %d", ErrSchema, number)
		case number != list[have-1].number:
			return 0, fmt.Errorf("%w: migration %d is missing", ErrSchema, list[have-1].number)
		case checksum != list[have-1].checksum:
			return 0, fmt.Errorf("%w: migration %d reads differently here", ErrSchema, number)
		}
	}
	return have, rows.Err()
}

// apply runs a script that is what some migrations do, in one transaction, and notes them.
func apply(ctx context.Context, c *sql.Conn, script string, done []migration, now time.Time) error {
	tx, err := c.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	if _, err := tx.ExecContext(ctx, script); err != nil {
		return err
	}
	for _, m := range done {
		_, err = tx.ExecContext(ctx, "INSERT INTO migration VALUES (?, ?, ?, ?)",
			m.number, m.name, m.checksum, now.UnixMilli())
		if err != nil {
			return err
		}
	}
	return tx.Commit()
}
