package store

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"time"

	"shopfloat/internal/chat"
)

// repliesMax is how many messages one cause may lead to.
const repliesMax = 1024

// Message is a row of the outbox.
type Message struct {
	ID      int64
	Chat    chat.Chat
	At      time.Time // when it was decided on
	Reply   chat.Reply
	Edits   int64 // row whose message it replaces; 0: none
	Retires int64 // row whose buttons are dead from now on; 0: none
}

// Enqueue puts the n-th message of a cause into the outbox. That it will be
// sent is part of the same commit; from then on it may have been.
func (t *Tx) Enqueue(cause int64, n int, where chat.Chat, r chat.Reply) (Message, error) {
	m := Message{ID: cause*repliesMax + int64(n), Chat: where, At: t.now, Reply: r}
	if n < 0 || n >= repliesMax {
		return m, fmt.Errorf("cause %d leads to more than %d messages", cause, repliesMax)
	}
	cards, err := t.cards(where)
	if err != nil {
		return m, err
	}
	m.Edits, m.Retires = cards[r.Edit], cards[r.Retire]
	body, err := json.Marshal(r)
	if err != nil {
		return m, fmt.Errorf("outbox: %w", err)
	}
	key := r.Key
	if key == "" {
		key = r.Edit // the message goes on under its name
	}
	err = t.exec("INSERT INTO outbox (id, chat, at, body, key, edits, retires) VALUES (?, ?, ?, ?, ?, ?, ?)",
		m.ID, where, milli(t.now), string(body), orNone(key), m.Edits, m.Retires)
	if err != nil {
		return m, fmt.Errorf("outbox: %w", err)
	}
	if key != "" {
		cards[key] = max(cards[key], m.ID)
	}
	return m, nil
}

// cards gives the newest row of the outbox for each key in a chat. All of a
// chat are read at once: most that is asked for is not there yet.
func (t *Tx) cards(where chat.Chat) (map[string]int64, error) {
	if cards, ok := t.db.cache.cards[where]; ok {
		return cards, nil
	}
	cards := map[string]int64{}
	err := t.each("SELECT key, max(id) FROM outbox WHERE chat = ? AND key IS NOT NULL GROUP BY key",
		[]any{where}, func(row scanner) error {
			var key string
			var id int64
			err := row.Scan(&key, &id)
			cards[key] = id
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	keep(&t.db.cache.cards, keepSmall, where, cards)
	return cards, nil
}

// Told reports whether a message with a key was sent to a chat, as far as is
// still known.
func (t *Tx) Told(where chat.Chat, key string) (bool, error) {
	cards, err := t.cards(where)
	return cards[key] != 0, err
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
// more. What is not sent or handled stays. Of a chat with a dialog under way the newest message of each name
// stays, since it may be edited yet. Answers to strangers are forgotten. The
// newest inbox row stays: its id must not be used again.
func (t *Tx) Prune(before time.Time) error {
	for _, query := range []string{
		`DELETE FROM inbox WHERE status <> 0 AND at < ?1 AND id < (SELECT max(id) FROM inbox)`,
		`DELETE FROM outbox WHERE at < ?1 AND body IS NULL AND (key IS NULL
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
