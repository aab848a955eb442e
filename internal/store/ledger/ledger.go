// Package ledger keeps every machine's records: entries in a chain of hashes,
// what they move, the words and photos kept with them, and the books that
// follow from them, at hand.
package ledger

import (
	"database/sql"
	"errors"
	"fmt"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// ErrDamaged means the ledger does not hold together. Run verify to see where.
var ErrDamaged = errors.New("the records do not hold together; run verify to see where")

// Arithmetic is the version of the fold by which running states are kept. It
// goes up whenever the fold over entries that are written gives another state, or
// more of it is kept beside the body.
const Arithmetic = 4

// keepMachines bounds the books at hand: they are large and quick to read again.
const keepMachines = 256

// Cache holds the books that the last transactions read and wrote.
type Cache struct {
	machines map[shop.MachineID]*machineRow
	tail     tail
}

// Forget drops all of it.
func (c *Cache) Forget() { *c = Cache{} }

// Ledger is the records within one transaction.
type Ledger struct {
	tx *file.Tx
	at *Cache
}

// In gives the records within a transaction.
func In(tx *file.Tx, at *Cache) Ledger {
	at.tail = tail{} // it may be long
	return Ledger{tx, at}
}

// CheckTails compares the head every machine's books stand on with the last
// entry of its chain: a tail that was cut or a half copied file shows here.
func CheckTails(each file.Query) error {
	var broken sql.NullInt64
	err := each(`SELECT m.id FROM machine m
		LEFT JOIN entry e ON e.machine = m.id AND e.seq = m.seq
		WHERE m.seq > 0 AND e.hash IS NOT m.head LIMIT 1`, nil, func(row file.Scanner) error {
		return row.Scan(&broken)
	})
	switch {
	case err != nil:
		return fmt.Errorf("check the chains: %w", err)
	case broken.Valid:
		return fmt.Errorf("machine %d: %w", broken.Int64, ErrDamaged)
	}
	return nil
}
