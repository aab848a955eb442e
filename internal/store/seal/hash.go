// Package seal hashes what must not change unseen: one order of fields, and a
// short word for a hash that a person can write down.
package seal

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
)

// Size of a hash in bytes.
const Size = sha256.Size

// format is the first byte of everything that is hashed, so that another
// order of fields can never be taken for this one.
const format = 1

// Canon writes fields so that none can be mistaken for part of another:
// numbers in eight bytes, the rest behind its length.
type Canon struct{ h hash.Hash }

// New begins a hash.
func New() Canon {
	c := Canon{sha256.New()}
	_, _ = c.h.Write([]byte{format})
	return c
}

// Number takes a number.
func (c Canon) Number(n int64) {
	var b [8]byte
	binary.BigEndian.PutUint64(b[:], uint64(n))
	_, _ = c.h.Write(b[:])
}

// Bytes takes bytes with their length.
func (c Canon) Bytes(b []byte) {
	c.Number(int64(len(b)))
	_, _ = c.h.Write(b)
}

// Text takes a text with its length.
func (c Canon) Text(s string) { c.Bytes([]byte(s)) }

// Sum is the hash of all that was taken.
func (c Canon) Sum() []byte { return c.h.Sum(nil) }
