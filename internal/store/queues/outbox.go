package queues

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/store/file"
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
func (t Queues) Enqueue(cause int64, n int, where chat.Chat, r chat.Reply) (Message, error) {
	m := Message{ID: cause*repliesMax + int64(n), Chat: where, At: t.tx.Now(), Reply: r}
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
	err = t.tx.Exec("INSERT INTO outbox (id, chat, at, body, key, edits, retires) VALUES (?, ?, ?, ?, ?, ?, ?)",
		m.ID, where, file.Milli(t.tx.Now()), file.Text(body), file.OrNone(key), m.Edits, m.Retires)
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
func (t Queues) cards(where chat.Chat) (map[string]int64, error) {
	if cards, ok := t.at.cards[where]; ok {
		return cards, nil
	}
	cards := map[string]int64{}
	err := t.tx.Each("SELECT key, max(id) FROM outbox WHERE chat = ? AND key IS NOT NULL GROUP BY key",
		[]any{where}, func(row file.Scanner) error {
			var key string
			var id int64
			err := row.Scan(&key, &id)
			cards[key] = id
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	file.Keep(&t.at.cards, file.KeepSmall, where, cards)
	return cards, nil
}

// Told reports whether a message with a key was sent to a chat, as far as is
// still known.
func (t Queues) Told(where chat.Chat, key string) (bool, error) {
	cards, err := t.cards(where)
	return cards[key] != 0, err
}

// Arrived counts the messages of a name that went out to a chat, edits apart, and says
// when the last of all was decided on; zero when none did.
func (t Queues) Arrived(where chat.Chat, key string) (times int, last time.Time, err error) {
	var at int64
	err = t.tx.One(`SELECT coalesce(sum(edits = 0), 0), coalesce(max(at), 0) FROM outbox
		WHERE chat = ? AND key = ? AND message_id <> 0`, []any{where, key}, &times, &at)
	if err != nil {
		return 0, last, fmt.Errorf("outbox: %w", err)
	}
	if at > 0 {
		last = file.Instant(at)
	}
	return times, last, nil
}

// Reminder is a name of messages that remind of a task, and when they went out to a chat.
type Reminder struct {
	Key         string
	First, Last time.Time
}

// Reminders lists the reminders of tasks that went out to a chat since an instant.
func (t Queues) Reminders(where chat.Chat, since time.Time) (list []Reminder, err error) {
	err = t.tx.Each(`SELECT key, min(at), max(at) FROM outbox WHERE chat = ? AND at >= ?
		AND key GLOB '`+reminders.KeyPrefix+`*' AND message_id <> 0 AND edits = 0 GROUP BY key ORDER BY key`,
		[]any{where, file.Milli(since)}, func(row file.Scanner) error {
			var r Reminder
			var first, last int64
			err := row.Scan(&r.Key, &first, &last)
			r.First, r.Last = file.Instant(first), file.Instant(last)
			list = append(list, r)
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	return list, nil
}

// keepReminders is how much longer it is known what people were reminded of, for the
// letter of the week.
const keepReminders = 8 * 24 * time.Hour

// Sent notes that a row needs no sending any more; its content goes.
// messageID is the message it became, 0 when it was given up.
func (t Queues) Sent(id, messageID int64) error {
	return t.tx.Exec("UPDATE outbox SET body = NULL, message_id = ? WHERE id = ?", messageID, id)
}

// Link gives what an unsent row has of its link.
func (t Queues) Link(id int64) ([]byte, error) {
	var body []byte
	if err := t.tx.One("SELECT body FROM outbox WHERE id = ?", []any{id}, &body); err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	var r chat.Reply
	if err := json.Unmarshal(body, &r); err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	return r.Link, nil
}

// SetLink notes what an unsent row has of its link from now on.
func (t Queues) SetLink(id int64, link []byte) error {
	return t.tx.Exec("UPDATE outbox SET body = json_set(body, '$.link', ?) WHERE id = ?",
		base64.StdEncoding.EncodeToString(link), id) // as encoding/json writes bytes
}

// Unsent lists the rows that may not have been sent, in order.
func (t Queues) Unsent() ([]Message, error) {
	var list []Message
	err := t.tx.Each(`SELECT id, chat, at, body, edits, retires FROM outbox
		WHERE body IS NOT NULL ORDER BY id`, nil, func(row file.Scanner) error {
		var m Message
		var at int64
		var body []byte
		if err := row.Scan(&m.ID, &m.Chat, &at, &body, &m.Edits, &m.Retires); err != nil {
			return err
		}
		m.At = file.Instant(at)
		list = append(list, m)
		return json.Unmarshal(body, &list[len(list)-1].Reply)
	})
	if err != nil {
		return nil, fmt.Errorf("outbox: %w", err)
	}
	return list, nil
}

// UnsentTo lists the rows of a chat that may not have been sent.
func (t Queues) UnsentTo(where chat.Chat) (rows []int64, err error) {
	err = t.tx.Each(
		"SELECT id FROM outbox WHERE chat = ? AND body IS NOT NULL",
		[]any{where},
		func(row file.Scanner) error {
			var id int64
			err := row.Scan(&id)
			rows = append(rows, id)
			return err
		},
	)
	return rows, err
}

// Prune removes what came in and went out before an instant and is needed no
// more. What is not sent or handled stays. Of a chat with a dialog under way the newest
// message of each name stays, since it may be edited yet. Reminders stay for a letter of
// the week. Answers to strangers are forgotten. The newest inbox row stays: its id must
// not be used again.
func (t Queues) Prune(before time.Time) error {
	for _, query := range []string{
		`DELETE FROM inbox WHERE status <> 0 AND at < ?1 AND id < (SELECT max(id) FROM inbox)`,
		`DELETE FROM attempt WHERE since < ?1`,
		`DELETE FROM chat WHERE state IS NULL AND answered < ?1 AND gone = 0`,
	} {
		if err := t.tx.Exec(query, file.Milli(before)); err != nil {
			return fmt.Errorf("prune: %w", err)
		}
	}
	err := t.tx.Exec(`DELETE FROM outbox WHERE body IS NULL AND (at < ?2 OR at < ?1 AND
			(key IS NULL OR key NOT GLOB ?3))
		AND (key IS NULL OR chat NOT IN (SELECT chat FROM chat WHERE flow <> '')
			OR id < (SELECT max(id) FROM outbox o WHERE o.chat = outbox.chat AND o.key = outbox.key))`,
		file.Milli(before), file.Milli(before.Add(-keepReminders)), reminders.KeyPrefix+"*")
	if err != nil {
		return fmt.Errorf("prune: %w", err)
	}
	t.tx.Forget()
	return nil
}
