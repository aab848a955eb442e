package ledger

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// errEnough ends the reading of rows.
var errEnough = errors.New("enough")

// ReadSince reads a machine's entries since an instant, with their movements, oldest
// first, and before them the last one from before it. It reads no others.
func ReadSince(each file.Query, id shop.MachineID, since time.Time) ([]*Row, error) {
	var list []*Row
	err := each(wholeRow+" DESC", []any{id}, func(row file.Scanner) error {
		e, err := scanRow(row, id)
		if list = append(list, e); err == nil && e.Recorded < file.Milli(since) {
			return errEnough
		}
		return err
	})
	if err != nil && !errors.Is(err, errEnough) {
		return nil, fmt.Errorf("entries of machine %d: %w", id, err)
	}
	slices.Reverse(list)
	for _, e := range list {
		if err := readMovesOf(each, e); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// readMovesOf reads the movements of one entry.
func readMovesOf(each file.Query, e *Row) error {
	return each(movesQuery+" AND period = ? AND seq = ? ORDER BY n", []any{e.Machine, e.Period, e.Seq},
		func(row file.Scanner) error {
			m, period, seq, n, err := scanMove(row)
			if err == nil && n != int64(len(e.Moves)) {
				return &Stray{seq: seq, period: period, n: n}
			}
			e.Moves = append(e.Moves, m)
			return err
		})
}
