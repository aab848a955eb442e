package store

import (
	"fmt"
	"time"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/shop"
)

// Deadline is an instant at which a machine's dialogs want to be called.
type Deadline struct {
	Machine shop.MachineID
	Name    string
	Chat    dialogs.Chat // that asked for it last
	Due     time.Time
}

// SetDeadline plans a deadline, moves the one of that name, or drops it when
// the time is zero.
func (t *Tx) SetDeadline(d Deadline) error {
	if d.Due.IsZero() {
		return t.exec("DELETE FROM deadline WHERE machine = ? AND name = ?", d.Machine, d.Name)
	}
	return t.exec(`INSERT INTO deadline (machine, name, chat, due_at) VALUES (?, ?, ?, ?)
		ON CONFLICT (machine, name) DO UPDATE SET chat = excluded.chat, due_at = excluded.due_at`,
		d.Machine, d.Name, d.Chat, milli(d.Due))
}

// Due lists the deadlines at or before the transaction's time, by time.
func (t *Tx) Due() ([]Deadline, error) {
	var list []Deadline
	err := t.each(`SELECT machine, name, chat, due_at FROM deadline WHERE due_at <= ? ORDER BY due_at, machine, name`,
		[]any{milli(t.now)}, func(row scanner) error {
			var d Deadline
			var due int64
			err := row.Scan(&d.Machine, &d.Name, &d.Chat, &due)
			d.Due = instant(due)
			list = append(list, d)
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("deadlines: %w", err)
	}
	return list, nil
}
