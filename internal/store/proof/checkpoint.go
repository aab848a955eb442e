package proof

import (
	"bytes"
	"encoding/json"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// checkpoint is what is kept of the books after an entry, to go on from.
type checkpoint struct {
	day  string
	body []byte
}

// checkpoints reads those of a machine. Whoever finds one right takes it away: those
// that are left are wrong, or of no entry.
func (v *verifier) checkpoints(id shop.MachineID) (map[int64]checkpoint, error) {
	marks := map[int64]checkpoint{}
	err := v.each("SELECT seq, day, body FROM checkpoint WHERE machine = ?", []any{id},
		func(row file.Scanner) error {
			var seq int64
			var c checkpoint
			err := row.Scan(&seq, &c.day, &c.body)
			marks[seq] = c
			return err
		})
	return marks, err
}

// agrees reports whether it is what the books were.
func (c checkpoint) agrees(m *books.Machine, recorded int64) bool {
	own, err := json.Marshal(m)
	return err == nil && bytes.Equal(own, c.body) && c.day == file.Instant(recorded).Format(time.DateOnly)
}
