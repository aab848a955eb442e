package file

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"runtime/debug"
	"time"
	"unsafe"

	"shopfloat/internal/filewatch"
)

// Tx is one transaction of the writer. Every statement in it runs to its end:
// a cancelled statement would take the whole transaction with it.
type Tx struct {
	db    *DB
	now   time.Time
	heads filewatch.Heads // the newest things it brought
}

// Brought notes a new row of the inbox.
func (t *Tx) Brought(inbox int64) { t.heads.Inbox = max(t.heads.Inbox, inbox) }

// Entered notes a new entry.
func (t *Tx) Entered(machine, seq int64, hash []byte) {
	t.heads.Machine, t.heads.Seq, t.heads.Hash = machine, seq, hash
}

// Panic is a program's error that came to light within [Tx.Try].
type Panic struct {
	Value any
	Stack []byte
}

func (p *Panic) Error() string { return fmt.Sprintf("panic: %v", p.Value) }

// Begin starts a transaction in which everything sees the time now, in UTC and
// whole milliseconds.
func (db *DB) Begin(now time.Time) (*Tx, error) {
	t := &Tx{db: db, now: now.UTC().Round(0).Truncate(time.Millisecond)}
	if db.doubt != nil {
		return nil, db.doubt
	}
	if db.c == nil { // no connection could be had the last time
		if err := db.Reopen(); err != nil {
			return nil, err
		}
	}
	if err := t.Exec("BEGIN IMMEDIATE"); err != nil {
		return nil, fmt.Errorf("begin: %w", err)
	}
	return t, nil
}

// Now is the time of the transaction.
func (t *Tx) Now() time.Time { return t.now }

// Commit makes the transaction durable: when it returns nil, a power cut takes
// nothing of it back. After an error nothing of it counts; a [Doubt] means that
// nothing ever will.
func (t *Tx) Commit() error {
	err := t.db.Look(context.Background())
	if err == nil {
		err = t.Exec("COMMIT")
	}
	if err != nil {
		t.Rollback()
		return fmt.Errorf("commit: %w", err)
	}
	return t.db.written(t.heads, t.now)
}

// Rollback takes everything back.
func (t *Tx) Rollback() {
	t.db.Forget()
	_, _ = t.db.c.ExecContext(context.Background(), "ROLLBACK") // an error means it is gone already
}

// Try runs fn so that an error or panic takes back what fn did and nothing
// else. An ErrLost means the transaction itself is gone: nothing in it counts,
// nothing more may be done in it, and the DB is to be reopened.
func (t *Tx) Try(fn func() error) error {
	if err := t.Exec("SAVEPOINT step"); err != nil {
		return errors.Join(ErrLost, err)
	}
	before := t.heads
	err := t.Plainly(fn)
	if err == nil {
		err = t.Exec("RELEASE step")
	}
	if err == nil {
		return nil
	}
	t.heads = before
	t.db.Forget()
	if lost := t.Exec("ROLLBACK TO step"); lost != nil {
		return errors.Join(ErrLost, lost, err)
	}
	if lost := t.Exec("RELEASE step"); lost != nil {
		return errors.Join(ErrLost, lost, err)
	}
	return err
}

// Plainly runs fn as Try does, but takes nothing back: after an error or panic
// the whole transaction is to be rolled back.
func (t *Tx) Plainly(fn func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &Panic{Value: v, Stack: debug.Stack()}
		}
	}()
	return fn()
}

// stmt prepares a statement that reads once for the life of the connection. SQLite plans one anew
// each time where a plain LIMIT ? or GLOB ? is in it, since its plan may hang on the value: written
// as LIMIT +? it does not, and reading claims takes a third.
func (db *DB) stmt(query string) (*sql.Stmt, error) {
	if db.before != nil {
		if err := db.before(query); err != nil {
			return nil, err
		}
	}
	if s := db.stmts[query]; s != nil {
		return s, nil
	}
	s, err := db.c.PrepareContext(context.Background(), query)
	if err != nil {
		return nil, db.hurt(err)
	}
	db.stmts[query] = s
	return s, nil
}

// write runs a statement that writes. It is the driver's own, prepared once for the life of
// the connection: an input writes five times as often as it reads, and what package
// database/sql does about each is of no use with one connection and one goroutine.
func (db *DB) write(query string, args []any) (driver.Result, error) {
	if db.before != nil {
		if err := db.before(query); err != nil {
			return nil, err
		}
	}
	s := db.writes[query]
	if s == nil {
		var err error
		if s, err = db.prepareWrite(query); err != nil {
			return nil, db.hurt(err)
		}
		db.writes[query] = s
	}
	db.args = db.args[:0]
	for i, a := range args {
		if text, ok := a.(Text); ok {
			a = unsafe.String(unsafe.SliceData(text), len(text))
		}
		v, err := driver.DefaultParameterConverter.ConvertValue(a)
		if err != nil {
			return nil, fmt.Errorf("argument %d: %w", i+1, err)
		}
		db.args = append(db.args, driver.NamedValue{Ordinal: i + 1, Value: v})
	}
	defer clear(db.args)
	done, err := s.ExecContext(context.Background(), db.args)
	if err != nil {
		err = db.hurt(err)
	}
	return done, err
}

// writeStmt is a statement of the driver.
type writeStmt interface {
	driver.Stmt
	driver.StmtExecContext
}

func (db *DB) prepareWrite(query string) (s writeStmt, err error) {
	err = db.c.Raw(func(c any) error {
		made, err := c.(driver.ConnPrepareContext).PrepareContext(context.Background(), query)
		if err != nil {
			return err
		}
		s = made.(writeStmt)
		return nil
	})
	return s, err
}

// endWrites lets go of the statements that write, which must happen before their connection ends.
func (db *DB) endWrites() (err error) {
	for _, s := range db.writes {
		err = errors.Join(err, s.Close())
	}
	db.writes = nil
	return err
}

// Exec runs a statement.
func (t *Tx) Exec(query string, args ...any) error {
	_, err := t.Result(query, args...)
	return err
}

// Result runs a statement and tells what it did.
func (t *Tx) Result(query string, args ...any) (sql.Result, error) {
	return t.db.write(query, args)
}

// One reads a single row; ErrNone means there is none.
func (t *Tx) One(query string, args []any, dest ...any) error {
	s, err := t.db.stmt(query)
	if err != nil {
		return err
	}
	t.db.rows++
	err = s.QueryRowContext(context.Background(), args...).Scan(dest...)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return ErrNone
	case err != nil:
		return t.db.hurt(err)
	}
	return nil
}

// Each reads rows one by one.
func (t *Tx) Each(query string, args []any, scan func(Scanner) error) error {
	s, err := t.db.stmt(query)
	if err != nil {
		return err
	}
	rows, err := s.QueryContext(context.Background(), args...)
	if err == nil {
		err = drain(rows, func(row Scanner) error {
			t.db.rows++
			return scan(row)
		})
	}
	if err != nil {
		return t.db.hurt(err)
	}
	return nil
}

// Forget drops all that is kept at hand of the file.
func (t *Tx) Forget() { t.db.Forget() }
