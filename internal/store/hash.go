package store

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

const hashSize = sha256.Size

// format is the first byte of everything that is hashed, so that another
// order of fields can never be taken for this one.
const format = 1

// canon writes fields so that none can be mistaken for part of another:
// numbers in eight bytes, the rest behind its length.
type canon struct{ hash.Hash }

func newCanon() canon {
	c := canon{sha256.New()}
	_, _ = c.Write([]byte{format})
	return c
}

func (c canon) number(n int64) {
	var b [8]byte
	binary.BigEndian.PutUint64(b[:], uint64(n))
	_, _ = c.Write(b[:])
}

func (c canon) bytes(b []byte) {
	c.number(int64(len(b)))
	_, _ = c.Write(b)
}

func (c canon) text(s string) { c.bytes([]byte(s)) }

func (c canon) sum() []byte { return c.Sum(nil) }

// entryHash covers every column of an entry and its movements, and so by prev
// all entries before it.
func entryHash(e *entryRow) []byte {
	c := newCanon()
	for _, n := range []int64{int64(e.machine), e.seq, e.period} {
		c.number(n)
	}
	c.text(e.kind)
	for _, n := range []int64{e.happened, e.recorded, int64(e.by), e.settings, e.cause, e.causeN} {
		c.number(n)
	}
	c.bytes(e.body)
	c.bytes(e.digest)
	c.number(int64(len(e.moves)))
	for _, m := range e.moves {
		hashMove(c, m)
	}
	c.bytes(e.prev)
	return c.sum()
}

func hashMove(c canon, m books.Move) {
	c.text(string(m.From))
	c.text(string(m.To))
	c.text(string(m.Face))
	c.number(m.Notes)
}

func settingsHash(id shop.ID, version, since int64, body, prev []byte) []byte {
	c := newCanon()
	c.number(int64(id))
	c.number(version)
	c.number(since)
	c.bytes(body)
	c.bytes(prev)
	return c.sum()
}
