package ledger

import (
	"crypto/sha256"
	"database/sql"
	"fmt"

	"shopfloat/internal/books"
	"shopfloat/internal/store/seal"
)

// Kept is words or one photo kept beside an entry.
type Kept struct {
	Digest []byte
	Salt   []byte
	Words  sql.NullString
	Photo  sql.NullString // to fetch it with
	Same   sql.NullString // the same for every copy
}

// Seal is the digest of an Kept. The salt keeps short words from being
// guessed once they are erased.
func (a *Kept) Seal() []byte {
	c := seal.New()
	c.Bytes(a.Salt)
	c.Text(a.Words.String)
	c.Text(a.Photo.String)
	c.Text(a.Same.String)
	return c.Sum()
}

// Erased tells whether all of it is gone: words without their salt are forged.
func (a *Kept) Erased() bool {
	return a.Salt == nil && !a.Words.Valid && !a.Photo.Valid && !a.Same.Valid
}

// attachments takes words and photos off a record and gives the digest that
// stands for all of them in its entry; empty for none.
func attachments(r *books.Record, salts func() ([]byte, error)) ([]Kept, []byte, error) {
	var list []Kept
	if r.Words != "" {
		list = append(list, Kept{Words: valid(r.Words)})
	}
	for _, p := range r.Photos {
		list = append(list, Kept{Photo: valid(p.ID), Same: valid(p.Unique)})
	}
	for i := range list {
		a := &list[i]
		var err error
		if a.Salt, err = salts(); err != nil {
			return nil, nil, fmt.Errorf("salt: %w", err)
		}
		a.Digest = a.Seal()
	}
	return list, SealAll(list), nil
}

// SealAll is the digest that stands for attachments in their entry; empty for none.
func SealAll(list []Kept) []byte {
	if len(list) == 0 {
		return nil
	}
	h := sha256.New()
	for _, a := range list {
		_, _ = h.Write(a.Digest)
	}
	return h.Sum(nil)
}

func valid(s string) sql.NullString { return sql.NullString{String: s, Valid: true} }

func (t Ledger) insertAttachment(e *Row, n int, a Kept) error {
	return t.tx.Exec(`INSERT INTO attachment (machine, seq, n, digest, salt, words, photo, same)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		e.Machine, e.Seq, n, a.Digest, a.Salt, a.Words, a.Photo, a.Same)
}
