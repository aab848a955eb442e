package file

import (
	"context"
	"database/sql"
	"time"
)

// Scanner reads the columns of a row.
type Scanner interface{ Scan(dest ...any) error }

// Query runs a statement and hands over row by row; a Tx and a Reader have one each.
type Query func(sql string, args []any, scan func(Scanner) error) error

// queryer is a connection, a transaction or a pool.
type queryer interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// On gives the query of a connection, a transaction or a pool.
func On(ctx context.Context, q queryer) Query {
	return func(query string, args []any, scan func(Scanner) error) error {
		rows, err := q.QueryContext(ctx, query, args...)
		if err != nil {
			return err
		}
		return drain(rows, scan)
	}
}

func drain(rows *sql.Rows, scan func(Scanner) error) error {
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// Milli turns a time into what is stored. The zero time is 0.
func Milli(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}

// Instant turns what is stored into a time, in UTC.
func Instant(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms).UTC()
}

// OrNull gives nothing where there are no bytes.
func OrNull(b []byte) any {
	if len(b) == 0 {
		return nil
	}
	return b
}

// OrNone gives nothing where there is no text.
func OrNone(s string) sql.NullString { return sql.NullString{String: s, Valid: s != ""} }

// KeepSmall bounds what is kept at hand, so that two thousand busy shops fit
// into little memory.
const KeepSmall = 4096

// Text is what was just written as JSON, which a statement that writes takes as text, without a copy. It
// must not be changed while the statement runs.
type Text []byte

// Keep puts a value into a map that holds at most limit. One that is full
// starts again empty: what is used comes back by itself.
func Keep[K comparable, V any](m *map[K]V, limit int, k K, v V) {
	if *m == nil {
		*m = map[K]V{}
	}
	if _, have := (*m)[k]; !have && len(*m) >= limit {
		clear(*m)
	}
	(*m)[k] = v
}
