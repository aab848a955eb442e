package file

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"shopfloat/internal/filewatch"
)

// Copy writes what a file holds at this moment into a new one, which only its
// owner can read, beside whoever writes to it. What was erased is not in it. The
// file may be of an earlier program. Nothing is written to it.
func Copy(ctx context.Context, path, to string) error {
	full, err := filepath.EvalSymlinks(path)
	if err != nil {
		return fmt.Errorf("copy %s: %w", path, err)
	}
	err = copyFrom(ctx, full, to, copying)
	if err != nil && cannotWrite(err) && lies(full+"-wal") != filewatch.Present {
		err = copyFrom(ctx, full, to, copying+"&immutable=1") // from where nothing can be written
	}
	if err != nil {
		return opening("copy", path, err)
	}
	return nil
}

func copyFrom(ctx context.Context, full, to, query string) error {
	db, err := sql.Open("sqlite", fileURL(full, query))
	if err != nil {
		return err
	}
	defer func() { _ = db.Close() }()
	c, err := db.Conn(ctx)
	if err != nil {
		return err
	}
	defer func() { _ = c.Close() }()
	empty, err := recognise(ctx, c)
	if err == nil && empty {
		err = ErrForeign
	}
	if err != nil {
		return err
	}
	return vacuumInto(ctx, c, to)
}

// vacuumInto fails where something is in the place of the copy already.
func vacuumInto(ctx context.Context, c *sql.Conn, to string) error {
	f, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600) // SQLite would let everybody read it
	if err != nil {
		return fmt.Errorf("copy: %w", err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("copy: %w", err)
	}
	if _, err = c.ExecContext(ctx, "VACUUM INTO ?", to); err == nil {
		err = SyncFile(to)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("copy: %w", err), os.Remove(to))
	}
	return nil
}

// SyncFile makes a file's content durable. It must not be open elsewhere in the
// program: closing it takes all locks on it.
func SyncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// SyncFolder makes what was made or renamed in a folder durable.
func SyncFolder(folder string) error { return syncFolder(folder) }

// Sound looks at every page of the file.
func (r *Reader) Sound(ctx context.Context) error {
	var said string
	if err := r.One(ctx, "PRAGMA integrity_check(1)", nil, &said); err != nil {
		return err
	}
	if said != "ok" {
		return fmt.Errorf("the file is damaged: %s", said)
	}
	return nil
}

// Heads gives the newest things of the file.
func (r *Reader) Heads(ctx context.Context) (filewatch.Heads, error) {
	h, _, err := headsOf(On(ctx, r.db), filewatch.Heads{})
	return h, err
}

// Rescue writes all that was confirmed into a file of its own, beside what lies
// in the place of the one that is in doubt. The program still holds the files it
// opened, whatever has become of their names. It is kept only if it is whole.
func (db *DB) Rescue(ctx context.Context, now time.Time) (string, error) {
	if db.doubt == nil || db.c == nil {
		return "", errors.New("rescue: nothing is in doubt")
	}
	name := fmt.Sprintf("%s.rescued-%s", db.path, now.UTC().Format("20060102-150405"))
	if err := vacuumInto(ctx, db.c, name); err != nil {
		return "", fmt.Errorf("rescue: %w", err)
	}
	if err := db.whole(ctx, name); err != nil {
		return "", errors.Join(fmt.Errorf("rescue: %w", err), os.Remove(name))
	}
	db.doubt.Rescued = name
	return name, SyncFolder(filepath.Dir(name))
}

// whole checks that a copy holds all that was confirmed.
func (db *DB) whole(ctx context.Context, name string) error {
	r, err := OpenReader(ctx, name)
	if err != nil {
		return err
	}
	defer func() { _ = r.Close() }()
	if err := r.Sound(ctx); err != nil {
		return err
	}
	want := db.mark.Heads()
	have, followed, err := headsOf(On(ctx, r.db), want)
	if err == nil && (have.Inbox < want.Inbox || !followed) {
		err = errors.New("what was confirmed last is not in it")
	}
	return err
}
