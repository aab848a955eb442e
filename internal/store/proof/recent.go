package proof

import (
	"bytes"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/chain"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/seal"
)

// recent checks a machine's records since an instant, and that the books at hand
// stand on the last of them.
func (v *verifier) recent(m stored, newest int64, t told, rep *MachineReport) error {
	rows, err := ledger.ReadSince(v.each, m.id, v.since)
	if err != nil {
		return rep.stray(err)
	}
	rep.Head = make([]byte, seal.Size)
	before, prev := int64(0), rep.Head
	if len(rows) > 0 {
		last := rows[len(rows)-1]
		rep.Entries, rep.Head, rep.Newest = int(last.Seq), last.Hash, file.Instant(last.Recorded)
		if before = rows[0].Seq; before > 1 || rows[0].Recorded < file.Milli(v.since) {
			prev, rows = rows[0].Hash, rows[1:] // it is the one before
		} else {
			before = 0
		}
	}
	rep.chain(rows, before, prev)
	for _, e := range rows {
		rep.Moves += len(e.Moves)
		rep.Hashes = append(rep.Hashes, e.Hash)
	}
	rep.versions(m, rows, newest)
	entries, err := ledger.Decode(rows)
	if err != nil {
		rep.fault("%s", err)
	}
	for i := range entries {
		if fault := columns(rows[i], &entries[i]); fault != "" {
			rep.fault("entry %d: %s", rows[i].Seq, fault)
		}
	}
	rep.named(rows, entries, t)
	rep.Word = seal.CheckWord(seal.Joint(rep.Head, t.newest(rep.Shop)))
	rep.projection(m, nil)
	return nil
}

// named checks that records name things told of the shop that are there.
func (rep *MachineReport) named(rows []*ledger.Row, entries []books.Entry, t told) {
	for i, e := range entries {
		if _, ok := t.pinned(rep.Shop, e.Pin); e.Pin != "" && !ok {
			rep.fault("entry %d names something told of the shop that is not there any more", rows[i].Seq)
			return
		}
	}
}

// pinned gives the number of what a record names of a shop, if it is there.
func (t told) pinned(id shop.ID, pin string) (seq int64, ok bool) {
	head, ok := chain.ReadPin(pin)
	hash, known := t.at(id, head.Seq)
	return head.Seq, ok && known && bytes.Equal(hash, head.Hash)
}
