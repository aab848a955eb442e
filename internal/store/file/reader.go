package file

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
)

// Reader reads a file beside the program that writes it, and changes nothing.
type Reader struct {
	db   *sql.DB
	path string
	rows atomic.Int64
}

// OpenReader opens a file for reading. It fails when there is no such file,
// with ErrForeign when it is none of shopfloat's, and with ErrSchema when its
// schema is not this program's. A file that was closed can be read where
// nothing can be written.
func OpenReader(ctx context.Context, path string) (*Reader, error) {
	full, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", path, err)
	}
	r, err := openReader(ctx, full, reading)
	if err != nil && cannotWrite(err) {
		if log, gone := os.Stat(full + "-wal"); gone == nil && log.Size() > 0 {
			return nil, fmt.Errorf("%s was not closed and its folder cannot be written to: "+
				"copy it and %[1]s-wal into a folder of your own and name the copy", path)
		}
		r, err = openReader(ctx, full, reading+"&immutable=1")
	}
	if err != nil {
		return nil, opening("read", path, err)
	}
	return r, nil
}

func openReader(ctx context.Context, full, query string) (*Reader, error) {
	r, err := newReader(full, query)
	if err != nil {
		return nil, err
	}
	if err := r.check(ctx); err != nil {
		return nil, errors.Join(err, r.Close())
	}
	return r, nil
}

func newReader(full, query string) (*Reader, error) {
	db, err := sql.Open("sqlite", fileURL(full, query))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(2)
	return &Reader{db: db, path: full}, nil
}

func (r *Reader) check(ctx context.Context) error {
	list, err := migrations(migrationFiles)
	if err != nil {
		return err
	}
	c, err := r.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer func() { _ = c.Close() }()
	empty, err := recognise(ctx, c)
	if err != nil {
		return err
	}
	if empty {
		return ErrForeign
	}
	have, err := checkMigrations(ctx, c, list)
	if err == nil && have < len(list) {
		err = fmt.Errorf("%w: its schema is older; start the bot on it once", ErrSchema)
	}
	return err
}

// Path is where the file truly lies.
func (r *Reader) Path() string { return r.path }

// Each reads rows one by one.
func (r *Reader) Each(ctx context.Context, query string, args []any, scan func(Scanner) error) error {
	return r.counted(On(ctx, r.db))(query, args, scan)
}

// counted counts the rows that are read.
func (r *Reader) counted(each Query) Query {
	return func(query string, args []any, scan func(Scanner) error) error {
		return each(query, args, func(row Scanner) error {
			r.rows.Add(1)
			return scan(row)
		})
	}
}

// RowsRead tells how many rows were read so far, one by one. It is there for tests of what grows.
func (r *Reader) RowsRead() int64 { return r.rows.Load() }

// One reads a single row; ErrNone means there is none.
func (r *Reader) One(ctx context.Context, query string, args []any, dest ...any) error {
	err := r.db.QueryRowContext(ctx, query, args...).Scan(dest...)
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNone
	}
	return err
}

// Moment runs fn so that all it reads stands at one moment, whatever is written meanwhile.
func (r *Reader) Moment(ctx context.Context, fn func(Query) error) error {
	tx, err := r.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	return fn(r.counted(prepared(ctx, tx)))
}

// prepared is the query of a transaction that prepares each statement once: many machines are asked
// the same. One that is still being read from is prepared anew for who asks meanwhile. They end with
// the transaction.
func prepared(ctx context.Context, tx *sql.Tx) Query {
	idle := map[string]*sql.Stmt{}
	return func(query string, args []any, scan func(Scanner) error) error {
		s := idle[query]
		if s == nil {
			var err error
			if s, err = tx.PrepareContext(ctx, query); err != nil {
				return err
			}
		}
		idle[query] = nil
		rows, err := s.QueryContext(ctx, args...)
		if err != nil {
			return err
		}
		err = drain(rows, scan)
		idle[query] = s
		return err
	}
}

// Close lets go of the file.
func (r *Reader) Close() error { return r.db.Close() }
