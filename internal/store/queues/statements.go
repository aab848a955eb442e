package queues

import (
	"context"
	"encoding/json"
	"fmt"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Statement is a bank's statement that somebody sent and that is to be read.
type Statement struct {
	ID     int64
	Chat   chat.Chat
	Shop   shop.ID // the chat was about
	Photo  books.Photo
	Digest []byte // nil: it is still to be fetched
	Turn   int64  // how often it was asked for
	Want   settling.Want
}

// AddStatement keeps what a chat sent, to be fetched and read.
func (t Queues) AddStatement(s Statement, person shop.PersonID) error {
	ask, err := json.Marshal(s.Want)
	if err != nil {
		return fmt.Errorf("statement: %w", err)
	}
	return t.tx.Exec(`INSERT INTO statement (chat, shop, person, sent, photo, same, turn, ask)
		VALUES (?, ?, ?, ?, ?, ?, 1, ?)`,
		s.Chat, s.Shop, person, file.Milli(t.tx.Now()), s.Photo.ID, s.Photo.Unique, string(ask))
}

// AskStatement has a statement read once more that the same chat sent.
func (t Queues) AskStatement(id int64, where chat.Chat, want settling.Want) error {
	ask, err := json.Marshal(want)
	if err != nil {
		return fmt.Errorf("statement %d: %w", id, err)
	}
	return t.tx.Exec("UPDATE statement SET turn = turn + 1, ask = ? WHERE id = ? AND chat = ?",
		string(ask), id, where)
}

// FetchedStatement notes the digest of a statement's file, which must be durable before.
func (t Queues) FetchedStatement(id int64, digest []byte) error {
	return t.tx.Exec("UPDATE statement SET digest = ? WHERE id = ? AND digest IS NULL", digest, id)
}

// ReadStatement notes that a statement was read, unless it was asked for once more
// meanwhile.
func (t Queues) ReadStatement(id, turn int64) error {
	return t.tx.Exec("UPDATE statement SET ask = NULL WHERE id = ? AND turn = ?", id, turn)
}

// Unread lists the statements that are to be read, in the order in which they came.
func Unread(ctx context.Context, r *file.Reader) ([]Statement, error) {
	var list []Statement
	err := r.Each(ctx, `SELECT id, chat, shop, photo, same, digest, turn, ask FROM statement
		WHERE ask IS NOT NULL ORDER BY id`, nil, func(row file.Scanner) error {
		var s Statement
		var ask []byte
		err := row.Scan(&s.ID, &s.Chat, &s.Shop, &s.Photo.ID, &s.Photo.Unique, &s.Digest, &s.Turn, &ask)
		if err == nil {
			err = json.Unmarshal(ask, &s.Want)
		}
		list = append(list, s)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("statements: %w", err)
	}
	return list, nil
}
