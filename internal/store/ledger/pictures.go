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
