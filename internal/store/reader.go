package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// Reader reads a file beside the program that writes it, and changes nothing.
type Reader struct {
	db     *sql.DB
	folder string // of photos
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
	db, err := sql.Open("sqlite", fileURL(full, query))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(2)
	r := &Reader{db: db, folder: Pictures(full)}
	if err := r.check(ctx); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return r, nil
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

// Close lets go of the file.
func (r *Reader) Close() error { return r.db.Close() }

// NextDue gives the time of the earliest deadline.
func (r *Reader) NextDue(ctx context.Context) (due time.Time, ok bool, err error) {
	var ms sql.NullInt64
	err = r.db.QueryRowContext(ctx, "SELECT min(due_at) FROM deadline").Scan(&ms)
	return instant(ms.Int64), ms.Valid, err
}

// Latest gives the newest instant of which the file tells; zero for a new file.
func (r *Reader) Latest(ctx context.Context) (time.Time, error) {
	var ms int64
	err := r.db.QueryRowContext(ctx, `SELECT max(coalesce((SELECT max(at) FROM inbox), 0),
		coalesce((SELECT max(recorded) FROM entry), 0))`).Scan(&ms)
	return instant(ms), err
}

// Open lists the chats with a dialog under way.
func (r *Reader) Open(ctx context.Context) ([]chat.Chat, error) {
	rows, err := r.db.QueryContext(ctx, "SELECT chat FROM chat WHERE flow <> '' ORDER BY chat")
	if err != nil {
		return nil, err
	}
	var list []chat.Chat
	err = drain(rows, func(row scanner) error {
		var c chat.Chat
		err := row.Scan(&c)
		list = append(list, c)
		return err
	})
	return list, err
}

// MessageID gives the message a row of the outbox became; 0 for none.
func (r *Reader) MessageID(ctx context.Context, row int64) (id int64, err error) {
	err = r.db.QueryRowContext(ctx, "SELECT message_id FROM outbox WHERE id = ?", row).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return id, err
}

// Shop gives the newest version of the shop a chat belongs to, without people's
// names; ErrNone for a stranger.
func (r *Reader) Shop(ctx context.Context, where chat.Chat) (*shop.Shop, error) {
	var id shop.ID
	var version int64
	var body []byte
	err := r.db.QueryRowContext(ctx, `SELECT s.shop, s.version, s.body FROM account a JOIN settings s ON s.shop = a.shop
		WHERE a.chat = ? AND a.frozen = 0 ORDER BY a.used DESC, a.shop, s.version DESC LIMIT 1`, where).
		Scan(&id, &version, &body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, ErrNone
	}
	if err != nil {
		return nil, err
	}
	var settings shop.Settings
	if err := json.Unmarshal(body, &settings); err != nil {
		return nil, fmt.Errorf("shop %d version %d: %w", id, version, err)
	}
	return shop.New(id, version, settings)
}
