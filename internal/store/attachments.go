package store

import (
	"crypto/sha256"
	"database/sql"
	"fmt"

	"shopfloat/internal/books"
)

// attachment is words or one photo kept beside an entry.
type attachment struct {
	digest []byte
	salt   []byte
	words  sql.NullString
	photo  sql.NullString // to fetch it with
	same   sql.NullString // the same for every copy
}

// seal is the digest of an attachment. The salt keeps short words from being
// guessed once they are erased.
func (a *attachment) seal() []byte {
	c := newCanon()
	c.bytes(a.salt)
	c.text(a.words.String)
	c.text(a.photo.String)
	c.text(a.same.String)
	return c.sum()
}

// erased tells whether all of it is gone: words without their salt are forged.
func (a *attachment) erased() bool {
	return a.salt == nil && !a.words.Valid && !a.photo.Valid && !a.same.Valid
}

// attachments takes words and photos off a record and gives the digest that
// stands for all of them in its entry; empty for none.
func attachments(r *books.Record, salts func() ([]byte, error)) ([]attachment, []byte, error) {
	var list []attachment
	if r.Words != "" {
		list = append(list, attachment{words: valid(r.Words)})
	}
	for _, p := range r.Photos {
		list = append(list, attachment{photo: valid(p.ID), same: valid(p.Unique)})
	}
	for i := range list {
		a := &list[i]
		var err error
		if a.salt, err = salts(); err != nil {
			return nil, nil, fmt.Errorf("salt: %w", err)
		}
		a.digest = a.seal()
	}
	return list, sealAll(list), nil
}

func sealAll(list []attachment) []byte {
	if len(list) == 0 {
		return nil
	}
	h := sha256.New()
	for _, a := range list {
		_, _ = h.Write(a.digest)
	}
	return h.Sum(nil)
}

func valid(s string) sql.NullString { return sql.NullString{String: s, Valid: true} }

func (t *Tx) insertAttachment(e *entryRow, n int, a attachment) error {
	return t.exec(`INSERT INTO attachment (machine, seq, n, digest, salt, words, photo, same)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		e.machine, e.seq, n, a.digest, a.salt, a.words, a.photo, a.same)
}
