// Package file is the one file of a program: it is opened, locked, brought up
// to date and written through one connection. What stands in it is no matter of
// this package. Nothing but the parts of the store knows SQLite.
//
// A [DB] is not safe for use by several goroutines at once. A [Reader] is.
package file

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// What can be wrong with a file or a transaction.
var (
	// ErrInUse means another program has the file. Stop that one first.
	ErrInUse = errors.New("another shopfloat is using this file; stop that one first")
	// ErrNetwork means the file lies on a disk that other computers can write to.
	ErrNetwork = errors.New("the file must lie on a disk of this computer, not on a network drive")
	// ErrSchema means the file was made by a program that knows more.
	ErrSchema = errors.New("this program cannot use the file")
	// ErrLost means that the transaction is gone and nothing of it counts.
	ErrLost = errors.New("transaction lost")
	// ErrNone means that there is no such row.
	ErrNone = errors.New("not found")
)

// DB is the writer of a file. It holds the lock.
type DB struct {
	path   string
	lock   *lock
	pool   *sql.DB
	c      *sql.Conn
	stmts  map[string]*sql.Stmt
	before func(query string) error
	forget []func()
}

// Open takes the lock of a file, creates it if there is none and brings its
// schema up to date. now dates the migrations. check looks at what it holds. It
// fails with ErrInUse, ErrNetwork, ErrForeign, ErrSchema or what check finds.
func Open(ctx context.Context, path string, now time.Time, check func(Query) error) (*DB, error) {
	full, err := resolve(path)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	if err := localDisk(full); err != nil {
		return nil, err
	}
	if err := refuseForeign(ctx, full); err != nil {
		return nil, fmt.Errorf("%s %w", path, err)
	}
	l, err := takeLock(ctx, full)
	if err != nil {
		return nil, err
	}
	db := &DB{path: full, lock: l}
	if err = create(full); err == nil {
		err = db.open(ctx, now, check)
	}
	if err != nil {
		_ = db.Close()
		return nil, opening("open", path, err)
	}
	return db, nil
}

// create makes a file that only its owner can read, as SQLite does not by
// itself. It leaves one that is there alone: closing it again would take the
// locks of whoever in this program reads it.
func create(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	if err != nil {
		return err
	}
	return f.Close()
}

func localDisk(path string) error {
	kind, err := fileSystem(filepath.Dir(path))
	if err != nil {
		return fmt.Errorf("open %s: %w", path, err)
	}
	if kind != "" {
		return fmt.Errorf("open %s on %s: %w", path, kind, ErrNetwork)
	}
	return nil
}

func (db *DB) open(ctx context.Context, now time.Time, check func(Query) error) (err error) {
	if db.pool, err = sql.Open("sqlite", fileURL(db.path, writing)); err != nil {
		return err
	}
	if err := db.connect(ctx); err != nil {
		return err
	}
	if err := db.Migrate(ctx, migrationFiles, now); err != nil {
		return err
	}
	return check(On(ctx, db.c))
}

// Migrate runs those of the migrations that the file has not behind it yet.
func (db *DB) Migrate(ctx context.Context, files fs.FS, now time.Time) error {
	return migrate(ctx, db.c, files, now)
}

// Set runs PRAGMA name = value and reads all settings back, as is done with every
// new connection. It is there for tests of connections that went wrong.
func (db *DB) Set(ctx context.Context, name, value string) error {
	if _, err := db.c.ExecContext(ctx, fmt.Sprintf("PRAGMA %s = %s", name, value)); err != nil {
		return err
	}
	return readBack(ctx, db.c)
}

// Path is where the file truly lies.
func (db *DB) Path() string { return db.path }

// OnForget has fn called whenever something is taken back, so that nothing
// stays at hand that is not in the file.
func (db *DB) OnForget(fn func()) { db.forget = append(db.forget, fn) }

// Forget drops all that is kept at hand of the file.
func (db *DB) Forget() {
	for _, fn := range db.forget {
		fn()
	}
}

// connect takes a connection of the pool for good.
func (db *DB) connect(ctx context.Context) error {
	c, err := db.pool.Conn(ctx)
	if err != nil {
		return err
	}
	if err := readBack(ctx, c); err != nil {
		return errors.Join(err, c.Close())
	}
	db.c, db.stmts = c, map[string]*sql.Stmt{}
	db.Forget()
	return nil
}

// Reopen gives up the connection, and with it whatever transaction it may
// still be in, and takes a new one.
func (db *DB) Reopen() error {
	ctx := context.Background()
	if db.c == nil {
		return db.connect(ctx)
	}
	_ = db.c.Raw(func(any) error { return driver.ErrBadConn })
	_ = db.c.Close()
	db.c = nil
	return db.connect(ctx)
}

// Close lets go of the file and the lock.
func (db *DB) Close() error {
	var errs []error
	for _, s := range db.stmts {
		errs = append(errs, s.Close())
	}
	if db.c != nil {
		errs = append(errs, db.c.Close())
	}
	if db.pool != nil {
		errs = append(errs, db.pool.Close())
	}
	return errors.Join(append(errs, db.lock.release())...)
}

// Interpose has fn called before every statement of a transaction; an error
// from it is that of the statement. It is there for tests of what happens when
// statements fail or the program ends between two of them.
func (db *DB) Interpose(fn func(query string) error) { db.before = fn }

// Truncate empties the write-ahead log, so that what has been removed from the
// tables does not stay readable there. To be called outside a transaction,
// when there is nothing else to do. It does not wait for readers: done is
// false when one was in the way.
func (db *DB) Truncate() (done bool, err error) {
	ctx := context.Background()
	if _, err := db.c.ExecContext(ctx, "PRAGMA busy_timeout = 0"); err != nil {
		return false, fmt.Errorf("truncate the log: %w", err)
	}
	var busy, total, moved int64
	err = db.c.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &total, &moved)
	if _, back := db.c.ExecContext(ctx, "PRAGMA busy_timeout = 5000"); back != nil {
		err = errors.Join(err, back)
	}
	if err != nil {
		return false, fmt.Errorf("truncate the log: %w", err)
	}
	return busy == 0, nil
}
