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

	"shopfloat/internal/filewatch"
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
	guard
	path   string
	lock   *lock
	held   *os.File // the file, locked
	opened Opened
	pool   *sql.DB
	c      *sql.Conn
	stmts  map[string]*sql.Stmt // that read
	writes map[string]writeStmt
	args   []driver.NamedValue // of the statement that writes at the moment
	before func(query string) error
	rows   int64 // read so far
	forget []func()
}

// Opened tells what a file was found to be.
type Opened struct {
	Verdict filewatch.Verdict
	Case    filewatch.Case
	Mark    *filewatch.Mark // of the last end; nil: none
}

// Open takes the locks of a file, creates it if there is none and brings its
// schema up to date. now dates the migrations. check looks at what it holds. It
// fails with ErrInUse, ErrNetwork, ErrForeign, ErrSchema, a [Refused] or what
// check finds. With asIs a file is taken that lacks something or is another one.
func Open(ctx context.Context, path string, now time.Time, check func(Query) error, asIs bool) (*DB, error) {
	full, err := resolve(path)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	if parted(path, full) && !asIs {
		return nil, refuse(path, filewatch.Parted, filewatch.Found{})
	}
	if err := localDisk(full); err != nil {
		return nil, err
	}
	s, err := behold(ctx, full)
	if err != nil {
		return nil, fmt.Errorf("%s %w", path, err)
	}
	defer s.end()
	if err := keepPrivate(full); err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	l, err := takeLock(ctx, full)
	if err != nil {
		return nil, err
	}
	db := &DB{path: full, lock: l, guard: guard{check: check}}
	if err = db.admit(ctx, s, asIs); err == nil {
		err = db.open(ctx, now)
	}
	if err != nil {
		_ = db.Close()
		return nil, opening("open", path, err)
	}
	return db, nil
}

// admit judges what lies in the place of the file and locks it. SQLite would
// make a file that only its owner cannot read; this one only its owner can.
func (db *DB) admit(ctx context.Context, s *sight, asIs bool) error {
	found, err := examine(ctx, db.path, s)
	s.end() // before the file is locked, see hold
	if err != nil {
		return err
	}
	db.opened.Mark = found.Mark
	db.opened.Verdict, db.opened.Case = filewatch.Judge(found)
	if c := db.opened.Case; db.opened.Verdict == filewatch.Refuse &&
		(!asIs || c != filewatch.Older && c != filewatch.Another) {
		return refuse(db.path, c, found)
	}
	db.held, err = hold(db.path)
	return err
}

// Opened tells what the file was found to be.
func (db *DB) Opened() Opened { return db.opened }

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
	if err := db.Migrate(ctx, migrationFiles, now); err != nil {
		return err
	}
	if err := db.check(On(ctx, db.c)); err != nil {
		return err
	}
	v, c := db.opened.Verdict, db.opened.Case
	return db.begin(ctx, db.path, On(ctx, db.c), now, v != filewatch.Refuse && c != filewatch.MarkBad)
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

// Reader gives a reader beside the writer, which has checked the file. It has its connection from
// now on: whatever becomes of the file's name, it is told who is to hear of it.
func (db *DB) Reader(ctx context.Context) (*Reader, error) {
	r, err := newReader(db.path, reading)
	if err != nil {
		return nil, err
	}
	if err := r.db.PingContext(ctx); err != nil {
		return nil, errors.Join(err, r.Close())
	}
	return r, nil
}

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
	db.c, db.stmts, db.writes = c, map[string]*sql.Stmt{}, map[string]writeStmt{}
	db.Forget()
	return nil
}

// Reopen gives up the connection, and with it whatever transaction it may
// still be in, and takes a new one.
func (db *DB) Reopen() error {
	ctx := context.Background()
	if err := db.Look(ctx); err != nil {
		return err
	}
	if db.c != nil {
		_ = db.endWrites() // the connection is given up in any case
		_ = db.c.Raw(func(any) error { return driver.ErrBadConn })
		_ = db.c.Close()
		db.c, db.stmts = nil, nil // they end with it, and may not be closed again
	}
	err := db.connect(ctx)
	db.watch.Accept() // the last connection takes the log along, and the next makes a new one
	return err
}

// Close lets go of the file and the locks. One in doubt is left as it is, to the
// end of the program: closing it would write to what lies there now.
func (db *DB) Close() error {
	if db.doubt != nil {
		return nil
	}
	db.pages.end()
	var errs []error
	if db.mark != nil {
		errs = append(errs, db.mark.Say(filewatch.Closing, ""))
	}
	for _, s := range db.stmts {
		errs = append(errs, s.Close())
	}
	errs = append(errs, db.endWrites())
	if db.c != nil {
		errs = append(errs, db.c.Close())
	}
	if db.pool != nil {
		errs = append(errs, db.pool.Close())
	}
	if db.mark != nil {
		errs = append(errs, db.mark.Say(filewatch.Closed, ""), db.mark.Close())
	}
	if db.held != nil {
		errs = append(errs, letGo(db.held))
	}
	return errors.Join(append(errs, db.lock.release())...)
}

// Interpose has fn called before every statement of a transaction; an error
// from it is that of the statement. It is there for tests of what happens when
// statements fail or the program ends between two of them.
func (db *DB) Interpose(fn func(query string) error) { db.before = fn }

// RowsRead tells how many rows transactions have read so far. It is there for
// tests of what a step costs as a shop grows old.
func (db *DB) RowsRead() int64 { return db.rows }

// Truncate empties the write-ahead log, so that what has been removed from the
// tables does not stay readable there. To be called outside a transaction,
// when there is nothing else to do. It does not wait for readers: done is
// false when one was in the way.
func (db *DB) Truncate() (done bool, err error) {
	ctx := context.Background()
	if err := db.Look(ctx); err != nil {
		return false, err
	}
	defer db.watch.Look(true) // what is lost is found with the next commit
	if _, err := db.c.ExecContext(ctx, "PRAGMA busy_timeout = 0"); err != nil {
		return false, fmt.Errorf("truncate the log: %w", err)
	}
	var busy, total, moved int64
	err = db.c.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &total, &moved)
	if _, back := db.c.ExecContext(ctx, "PRAGMA busy_timeout = 5000"); back != nil {
		err = errors.Join(err, back)
	}
	if err != nil {
		return false, fmt.Errorf("truncate the log: %w", db.hurt(err))
	}
	if busy == 0 {
		err = db.mark.Emptied()
	}
	return busy == 0, err
}
