package file

import (
	"context"
	"database/sql"
	"fmt"
)

// lock keeps a second program off a file: an exclusive transaction on a small
// SQLite file beside it, which ends with the process however it ends. A lock
// on the file itself would keep readers away too.
type lock struct {
	db *sql.DB
	c  *sql.Conn
}

func takeLock(ctx context.Context, path string) (*lock, error) {
	db, err := sql.Open("sqlite", fileURL(path+".lock", "_pragma=busy_timeout(0)"))
	if err != nil {
		return nil, err
	}
	c, err := db.Conn(ctx)
	if err == nil {
		_, err = c.ExecContext(ctx, "BEGIN EXCLUSIVE")
	}
	if err == nil {
		return &lock{db: db, c: c}, nil
	}
	_ = db.Close()
	if isBusy(err) {
		return nil, fmt.Errorf("%s: %w", path, ErrInUse)
	}
	return nil, fmt.Errorf("lock %s: %w", path, err)
}

func (l *lock) release() error {
	_ = l.c.Close()
	return l.db.Close()
}
