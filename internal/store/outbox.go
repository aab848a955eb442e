package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/dialogs"
)

// repliesMax is how many messages one cause may lead to.
const repliesMax = 1024

// Message is a row of the outbox.
type Message struct {
	ID      int64
	Chat    dialogs.Chat
	At      time.Time // when it was decided on
	Reply   dialogs.Reply
	Edits   int64 // row whose message it replaces; 0: none
	Retires int64 // row whose buttons are dead from now on; 0: none
}

// Enqueue puts the n-th message of a cause into the outbox. That it will be
// sent is part of the same commit; from then on it may have been.
func (t *Tx) Enqueue(cause int64, n int, chat dialogs.Chat, r dialogs.Reply) (Message, error) {
	m := Message{ID: cause*repliesMax + int64(n), Chat: chat, At: t.now, Reply: r}
	if n < 0 || n >= repliesMax {
		return m, fmt.Errorf("cause %d leads to more than %d messages", cause, repliesMax)
	}
	var err error
	if m.Edits, err = t.keyed(chat, r.Edit); err != nil {
		return m, err
	}
	if m.Retires, err = t.keyed(chat, r.Retire); err != nil {
		return m, err
	}
	body, err := json.Marshal(r)
	if err != nil {
		return m, fmt.Errorf("outbox: %w", err)
	}
	key := r.Key
	if key == "" {
		key = r.Edit // the message goes on under its name
	}
	newest, err := t.keyed(chat, key)
	if err != nil {
		return m, err
	}
	err = t.exec("INSERT INTO outbox (id, chat, at, body, key, edits, retires) VALUES (?, ?, ?, ?, ?, ?, ?)",
		m.ID, chat, milli(t.now), string(body), orNone(key), m.Edits, m.Retires)
	if err != nil {
		return m, fmt.Errorf("outbox: %w", err)
	}
	if key != "" {
		keep(&t.db.cache.cards, keepSmall, card{chat, key}, max(newest, m.ID))
	}
	return m, nil
}

// card names a message that may be edited.
type card struct {
	chat dialogs.Chat
	key  string
}

// keyed finds the newest row with a key in a chat; 0 when there is none.
func (t *Tx) keyed(chat dialogs.Chat, key string) (id int64, err error) {
	if key == "" {
		return 0, nil
	}
	if id, ok := t.db.cache.cards[card{chat, key}]; ok {
		return id, nil
	}
	err = t.one("SELECT id FROM outbox WHERE chat = ? AND key = ? ORDER BY id DESC LIMIT 1",
		[]any{chat, key}, &id)
	if err != nil && !errors.Is(err, ErrNone) {
		return 0, fmt.Errorf("outbox: %w", err)
	}
	return id, nil
}

// Told reports whether a message with a key was sent to a chat, as far as is
// still known.
func (t *Tx) Told(chat dialogs.Chat, key string) (bool, error) {
	id, err := t.keyed(chat, key)
	return id != 0, err
}

// Sent notes that a row needs no sending any more; its content goes.
// messageID is the message it became, 0 when it was given up.
func (t *Tx) Sent(id, messageID int64) error {
	return t.exec("UPDATE outbox SET body = NULL, message_id = ? WHERE id = ?", messageID, id)
}

// Unsent lists the rows that may not have been sent, in order.
func (t *Tx) Unsent() ([]Message, error) {
	var list []Message
	err := t.each(`SELECT id, chat, at, body, edits, retires FROM outbox
		WHERE body IS NOT NULL ORDER BY id`, nil, func(row scanner) error {
		var m Message
		var at int64
		var body []byte
		if err := row.Scan(&m.ID, &m.Chat, &at, &body, &m.Edits, &m.Retires); err != nil {
			return err
		}
		m.At = instant(at)
		list = append(list, m)
		return json.Unmarshal(body, &list[len(list)-1].Reply)
	})
	if err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	return list, nil
}

// Prune removes what came in and went out before an instant and is needed no
// more. Of a chat with a dialog under way the newest message of each name
// stays, since it may be edited yet. Answers to strangers are forgotten. The
// newest inbox row stays: its id must not be used again.
func (t *Tx) Prune(before time.Time) error {
	for _, query := range []string{
		`DELETE FROM inbox WHERE status <> 0 AND at < ?1 AND id < (SELECT max(id) FROM inbox)`,
		`DELETE FROM outbox WHERE at < ?1 AND (key IS NULL
			OR chat NOT IN (SELECT chat FROM chat WHERE flow <> '')
			OR id < (SELECT max(id) FROM outbox o WHERE o.chat = outbox.chat AND o.key = outbox.key))`,
		`DELETE FROM attempt WHERE since < ?1`,
		`DELETE FROM chat WHERE state IS NULL AND answered < ?1 AND gone = 0`,
	} {
		if err := t.exec(query, milli(before)); err != nil {
			return fmt.Errorf("prune: %w", err)
		}
	}
	t.db.cache.drop()
	return nil
}

func orNull(b []byte) any {
	if len(b) == 0 {
		return nil
	}
	return b
}

func orNone(s string) sql.NullString { return sql.NullString{String: s, Valid: s != ""} }

func nullChat(c dialogs.Chat) sql.NullString { return orNone(string(c)) }

// inserted gives the id of a row that an INSERT added, if it did.
func inserted(res sql.Result, err error) (id int64, fresh bool, _ error) {
	if err != nil {
		return 0, false, fmt.Errorf("inbox: %w", err)
	}
	n, err := res.RowsAffected()
	if err != nil || n == 0 {
		return 0, false, err
	}
	id, err = res.LastInsertId()
	return id, true, err
}
