package ledger

import (
	"fmt"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Outdated lists the machines whose running state an older program folded.
func (t Ledger) Outdated() (list []shop.MachineID, err error) {
	err = t.tx.Each("SELECT id FROM machine WHERE fold < ? ORDER BY id", []any{Arithmetic},
		func(row file.Scanner) error {
			var id shop.MachineID
			err := row.Scan(&id)
			list = append(list, id)
			return err
		})
	return list, err
}

// Refold works a machine's running state and claims out anew from its entries.
func (t Ledger) Refold(id shop.MachineID) error {
	m, err := t.row(id)
	if err != nil {
		return err
	}
	_, entries, err := t.ledger(id)
	if err != nil {
		return err
	}
	if m.books, err = books.Fold(id, entries); err != nil {
		return fmt.Errorf("machine %d: %w", id, err)
	}
	if err := t.tx.Exec("DELETE FROM claim WHERE machine = ?", id); err != nil {
		return fmt.Errorf("claims of machine %d: %w", id, err)
	}
	if err := t.saveClaims(id, nil, m.books.Claims); err != nil {
		return err
	}
	m.books.Claims = nil
	if _, err := t.saveMachine(m); err != nil {
		return err
	}
	if err := t.dropFrom(id, 0); err != nil {
		return err
	}
	return t.forget(id)
}
