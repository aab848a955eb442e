package ledger

import (
	"shopfloat/internal/books"
	"shopfloat/internal/store/seal"
)

// Hash covers every column of an entry and its movements, and so by prev
// all entries before it.
func Hash(e *Row) []byte {
	c := seal.New()
	for _, n := range []int64{int64(e.Machine), e.Seq, e.Period} {
		c.Number(n)
	}
	c.Text(e.Kind)
	for _, n := range []int64{e.Happened, e.Recorded, int64(e.By), e.Settings, e.Cause, e.CauseN} {
		c.Number(n)
	}
	c.Bytes(e.Body)
	c.Bytes(e.Digest)
	c.Number(int64(len(e.Moves)))
	for _, m := range e.Moves {
		hashMove(c, m)
	}
	c.Bytes(e.Prev)
	return c.Sum()
}

func hashMove(c seal.Canon, m books.Move) {
	c.Text(string(m.From))
	c.Text(string(m.To))
	c.Text(string(m.Face))
	c.Number(m.Notes)
}
