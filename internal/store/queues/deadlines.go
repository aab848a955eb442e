package queues

import (
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Deadline is an instant at which a machine's dialogs want to be called.
type Deadline struct {
	Machine shop.MachineID
	Name    string
	Due     time.Time
}

// SetDeadline plans a deadline, moves the one of that name, or drops it when
// the time is zero.
func (t Queues) SetDeadline(d Deadline) error {
	if d.Due.IsZero() {
		return t.tx.Exec("DELETE FROM deadline WHERE machine = ? AND name = ?", d.Machine, d.Name)
	}
	return t.tx.Exec(`INSERT INTO deadline (machine, name, chat, due_at) VALUES (?, ?, '', ?)
		ON CONFLICT (machine, name) DO UPDATE SET due_at = excluded.due_at`, d.Machine, d.Name, file.Milli(d.Due))
}

// Fired drops a deadline that came due, unless it has been moved meanwhile.
func (t Queues) Fired(d Deadline) error {
	return t.tx.Exec("DELETE FROM deadline WHERE machine = ? AND name = ? AND due_at = ?",
		d.Machine, d.Name, file.Milli(d.Due))
}

// Due lists the deadlines at or before the transaction's time, by time. The
// index holds all it reads, so that it costs what is due, not what is planned.
func (t Queues) Due() ([]Deadline, error) {
	var list []Deadline
	const query = "SELECT machine, name, due_at FROM deadline WHERE due_at <= ? ORDER BY due_at, machine, name"
	err := t.tx.Each(query, []any{file.Milli(t.tx.Now())}, func(row file.Scanner) error {
		var d Deadline
		var due int64
		err := row.Scan(&d.Machine, &d.Name, &due)
		d.Due = file.Instant(due)
		list = append(list, d)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("deadlines: %w", err)
	}
	return list, nil
}

// DueEverywhere gives every machine that has deadlines one more, due now.
func (t Queues) DueEverywhere(name string) error {
	err := t.tx.Exec(`INSERT OR REPLACE INTO deadline (machine, name, chat, due_at)
		SELECT DISTINCT machine, ?, '', ? FROM deadline`, name, file.Milli(t.tx.Now()))
	if err != nil {
		return fmt.Errorf("deadlines: %w", err)
	}
	return nil
}

// Newest is when something came in last; zero when nothing ever did.
func (t Queues) Newest() (time.Time, error) {
	var at int64
	err := t.tx.One("SELECT at FROM inbox ORDER BY id DESC LIMIT 1", nil, &at)
	if errors.Is(err, file.ErrNone) {
		err = nil
	}
	return file.Instant(at), err
}
