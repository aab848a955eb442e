package ledger

import (
	"fmt"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Picture is a photo kept with an entry; ID fetches it from where it was sent.
type Picture struct {
	Machine shop.MachineID
	Seq, N  int64
	ID      string
}

// KeepPicture notes the digest of a photo's file, nil when it cannot be had.
// The file must be durable before.
func (t Ledger) KeepPicture(p Picture, digest []byte) error {
	err := t.tx.Exec("INSERT OR IGNORE INTO picture (machine, seq, n, digest) VALUES (?, ?, ?, ?)",
		p.Machine, p.Seq, p.N, file.OrNull(digest))
	if err != nil {
		return fmt.Errorf("photo %d of entry %d: %w", p.N, p.Seq, err)
	}
	return nil
}

// By tells who made an entry; 0 when nobody said who they were.
func (t Ledger) By(machine shop.MachineID, seq int64) (by shop.PersonID, err error) {
	err = t.tx.One("SELECT by_person FROM entry WHERE machine = ? AND seq = ?", []any{machine, seq}, &by)
	return by, err
}
