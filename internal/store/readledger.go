package store

import (
	"context"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Entries gives a machine's whole ledger, oldest entry first.
func (r *Reader) Entries(ctx context.Context, id shop.MachineID) ([]books.Entry, error) {
	return readLedger(func(q string, args []any, scan func(scanner) error) error {
		rows, err := r.db.QueryContext(ctx, q, args...)
		if err != nil {
			return err
		}
		return drain(rows, scan)
	}, id, time.Time{})
}
