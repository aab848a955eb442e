// Package store is the one file that must not lie. It keeps what the shops
// have laid down, the ledger, what comes in and what goes out in SQLite, and
// writes all of it through one connection. Nothing outside this package knows
// SQLite.
//
// A [DB] is not safe for use by several goroutines at once: the desk is its
// only user. A [Reader] is.
package store

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
	// ErrDamaged means the ledger does not hold together. Run verify to see where.
	ErrDamaged = errors.New("the records do not hold together; run verify to see where")
	// ErrLost means that the transaction is gone and nothing of it counts.
	ErrLost = errors.New("transaction lost")
	// ErrOther means that a key came again with something else behind it.
	ErrOther = errors.New("same key, other content")
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
	cache  cache
	before func(query string) error
	reader *Reader
}

// Open takes the lock of a file, creates it if there is none, brings its
// schema up to date and checks the end of every machine's chain. now dates the
// migrations. It fails with ErrInUse, ErrNetwork,
// ErrForeign, ErrSchema or ErrDamaged.
func Open(ctx context.Context, path string, now time.Time) (*DB, error) {
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
		err = db.open(ctx, now)
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

func (db *DB) open(ctx context.Context, now time.Time) (err error) {
	if db.pool, err = sql.Open("sqlite", fileURL(db.path, writing)); err != nil {
		return err
	}
	if err := db.connect(ctx); err != nil {
		return err
	}
	if err := migrate(ctx, db.c, migrationFiles, now); err != nil {
		return err
	}
	if err := db.checkTails(ctx); err != nil {
		return err
	}
	db.reader, err = OpenReader(ctx, db.path)
	return err
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
	db.cache.drop()
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
	if db.reader != nil {
		errs = append(errs, db.reader.Close())
	}
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

// Reader gives the reading side of the file; it ends with the DB.
func (db *DB) Reader() *Reader { return db.reader }

// checkTails compares the head every machine's books stand on with the last
// entry of its chain: a tail that was cut or a half copied file shows here.
func (db *DB) checkTails(ctx context.Context) error {
	var id int64
	err := db.c.QueryRowContext(ctx, `SELECT m.id FROM machine m
		LEFT JOIN entry e ON e.machine = m.id AND e.seq = m.seq
		WHERE m.seq > 0 AND e.hash IS NOT m.head LIMIT 1`).Scan(&id)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil
	case err != nil:
		return fmt.Errorf("check the chains: %w", err)
	}
	return fmt.Errorf("machine %d: %w", id, ErrDamaged)
}

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
