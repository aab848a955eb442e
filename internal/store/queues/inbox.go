package queues

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// ErrOther means that a key came again with something else behind it.
var ErrOther = errors.New("same key, other content")

// Arrival is something that happened, before it is in the inbox. Source and
// Key name it for good: the same one coming again is not taken again.
type Arrival struct {
	Source string
	Key    string
	Hash   []byte // of what came in; empty when nothing of the content may stay
	Chat   chat.Chat
}

// Work is what is to be done about an arrival.
type Work struct {
	Input   chat.Input
	Machine shop.MachineID // it is about this machine; 0: the one of the chat's dialog
}

// Row is work that waits in the inbox: its status is 0. That of a row that is
// handled is 1, of one that is parked 2.
type Row struct {
	ID       int64
	Attempts int // begun so far
	Work
}

// Known says whether an arrival is in the inbox already. ErrOther means that
// its key is, with other content.
func (t Queues) Known(a Arrival) (bool, error) {
	var hash []byte
	err := t.tx.One("SELECT hash FROM inbox WHERE source = ? AND key = ?", []any{a.Source, a.Key}, &hash)
	switch {
	case errors.Is(err, file.ErrNone):
		return false, nil
	case err != nil:
		return false, fmt.Errorf("inbox: %w", err)
	case len(hash) > 0 && len(a.Hash) > 0 && !bytes.Equal(hash, a.Hash):
		return true, fmt.Errorf("inbox %s %s: %w", a.Source, a.Key, ErrOther)
	}
	return true, nil
}

// Handled puts an arrival into the inbox that is handled within this
// transaction, and gives its id, the cause of all that follows from it.
// fresh is false when it was there already and nothing is to be done.
func (t Queues) Handled(a Arrival) (id int64, fresh bool, err error) {
	res, err := t.tx.Result(`INSERT INTO inbox (source, key, hash, chat, at, status) VALUES (?, ?, ?, ?, ?, 1)
		ON CONFLICT (source, key) DO NOTHING`,
		a.Source, a.Key, file.OrNull(a.Hash), file.OrNone(string(a.Chat)), file.Milli(t.tx.Now()))
	return t.inserted(res, err)
}

// Park puts an arrival into the inbox that nothing is to be done about: only
// its key and the time stay.
func (t Queues) Park(a Arrival) error {
	res, err := t.tx.Result(`INSERT INTO inbox (source, key, at, status) VALUES (?, ?, ?, 2)
		ON CONFLICT (source, key) DO NOTHING`, a.Source, a.Key, file.Milli(t.tx.Now()))
	_, _, err = t.inserted(res, err)
	return err
}

// Wait puts an arrival into the inbox to be handled later.
func (t Queues) Wait(a Arrival, w Work, attempts int) (id int64, fresh bool, err error) {
	body, err := json.Marshal(w)
	if err != nil {
		return 0, false, fmt.Errorf("inbox: %w", err)
	}
	res, err := t.tx.Result(`INSERT INTO inbox (source, key, hash, chat, at, body, status, attempts)
		VALUES (?, ?, ?, ?, ?, ?, 0, ?) ON CONFLICT (source, key) DO NOTHING`,
		a.Source, a.Key, file.OrNull(a.Hash), file.OrNone(string(a.Chat)), file.Milli(t.tx.Now()),
		string(body), attempts)
	return t.inserted(res, err)
}

// Waiting lists what waits in the inbox, oldest first.
func (t Queues) Waiting() ([]Row, error) {
	var list []Row
	const query = "SELECT id, body, attempts FROM inbox WHERE status = 0 ORDER BY id"
	err := t.tx.Each(query, nil, func(row file.Scanner) error {
		var r Row
		var body []byte
		if err := row.Scan(&r.ID, &body, &r.Attempts); err != nil {
			return err
		}
		if err := json.Unmarshal(body, &r.Work); err != nil {
			r.Work = Work{} // belongs nowhere
		}
		list = append(list, r)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("inbox: %w", err)
	}
	return list, nil
}

// Attempted counts a try to handle a waiting row.
func (t Queues) Attempted(id int64) error {
	return t.tx.Exec("UPDATE inbox SET attempts = attempts + 1 WHERE id = ?", id)
}

// Done takes a waiting row as handled; its content goes.
func (t Queues) Done(id int64) error {
	return t.tx.Exec("UPDATE inbox SET status = 1, body = NULL WHERE id = ?", id)
}

// GiveUp parks a waiting row. Its content stays for whoever looks into it,
// until it is pruned.
func (t Queues) GiveUp(id int64) error {
	return t.tx.Exec("UPDATE inbox SET status = 2 WHERE id = ?", id)
}

// inserted gives the id of a row that an INSERT added, if it did.
func (t Queues) inserted(res sql.Result, err error) (id int64, fresh bool, _ error) {
	if err != nil {
		return 0, false, fmt.Errorf("inbox: %w", err)
	}
	n, err := res.RowsAffected()
	if err != nil || n == 0 {
		return 0, false, err
	}
	id, err = res.LastInsertId()
	t.tx.Brought(id)
	return id, true, err
}
