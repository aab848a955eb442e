package proof

import (
	"bytes"
	"fmt"
	"maps"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/chain"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/seal"
)

// told is what the chain of each shop says, beside its machines' records.
type told struct {
	heads  map[shop.ID][][]byte // hash of every entry, the first one first
	faults map[shop.ID][]string
}

// at gives the head that an entry of a shop's chain makes; 0 is the one before any.
func (t told) at(id shop.ID, seq int64) ([]byte, bool) {
	if seq == 0 {
		return make([]byte, seal.Size), true
	}
	if seq < 0 || seq > int64(len(t.heads[id])) {
		return nil, false
	}
	return t.heads[id][seq-1], true
}

// newest is the head of a shop's chain.
func (t told) newest(id shop.ID) []byte {
	head, _ := t.at(id, int64(len(t.heads[id])))
	return head
}

// elsewhere gives the faults of shops that have no machine.
func (t told) elsewhere(reports []MachineReport) (faults []string) {
	for _, id := range slices.Sorted(maps.Keys(t.faults)) {
		if !slices.ContainsFunc(reports, func(r MachineReport) bool { return r.Shop == id }) {
			faults = append(faults, t.faults[id]...)
		}
	}
	return faults
}

// told checks the chain of every shop, and that each row it tells of reads as it
// was told last.
func (v *verifier) told() (told, error) {
	t := told{heads: map[shop.ID][][]byte{}, faults: map[shop.ID][]string{}}
	fault := func(id shop.ID, format string, args ...any) {
		t.faults[id] = append(t.faults[id], fmt.Sprintf(format, args...))
	}
	type row struct {
		shop shop.ID
		kind chain.Kind
		key  string
	}
	last, rows := map[shop.ID]*chain.Entry{}, map[row][]byte{}
	err := chain.Read(v.each, func(e *chain.Entry) error {
		before := last[e.Shop]
		switch {
		case !e.Follows(before):
			fault(e.Shop, "what was told of shop %d has a gap or another order at %d", e.Shop, e.Seq)
		case !bytes.Equal(e.Hash, e.Seal()):
			fault(e.Shop, "what was told of shop %d was changed at %d: the hash does not match", e.Shop, e.Seq)
		}
		last[e.Shop], rows[row{e.Shop, e.Kind, e.Key}] = e, e.Row
		t.heads[e.Shop] = append(t.heads[e.Shop], e.Hash)
		return nil
	})
	if err != nil {
		return t, err
	}
	err = chain.Rows(v.each, func(r chain.Row) error {
		key := row{r.Shop, r.Kind, r.Key}
		switch want, ok := rows[key]; {
		case !ok || want == nil:
			fault(r.Shop, "%s of shop %d is there of which nothing was told", named(r.Kind, r.Key), r.Shop)
		case !bytes.Equal(want, r.Digest):
			fault(r.Shop, "%s of shop %d reads otherwise than it was told", named(r.Kind, r.Key), r.Shop)
		}
		delete(rows, key)
		return nil
	})
	for r, want := range rows {
		if want != nil && r.kind != chain.Code { // codes long past are thrown away
			fault(r.shop, "%s of shop %d is missing", named(r.kind, r.key), r.shop)
		}
	}
	for id := range t.faults {
		slices.Sort(t.faults[id])
	}
	return t, err
}

// named words what a row is. The key of an account or code tells nobody anything.
func named(kind chain.Kind, key string) string {
	switch kind {
	case chain.Settings:
		return "settings " + key
	case chain.Person:
		return "the name or personal code of person " + key
	case chain.Picture:
		return "photo " + key
	case chain.Month:
		return "the finished month " + key
	case chain.Account:
		return "the account of a phone"
	}
	return "a link that lets somebody in"
}

// pins checks that records name what was told of the shop until then, and lists
// the heads that check words were made of.
func (rep *MachineReport) pins(rows []*ledger.Row, entries []books.Entry, t told) {
	var from int64
	pinned := false
	for i, e := range entries {
		to := from
		if e.Pin == "" {
			if pinned {
				rep.fault("entry %d does not say what was told of the shop until then", e.Seq)
				return
			}
		} else {
			seq, ok := t.pinned(rep.Shop, e.Pin)
			if !ok || seq < from {
				rep.fault("entry %d names something told of the shop that is not there any more", e.Seq)
				return
			}
			pinned, to = true, seq
		}
		if i > 0 {
			rep.joint(rows[i-1].Hash, from, to, t)
		}
		from = to
	}
	if len(rows) > 0 {
		rep.joint(rows[len(rows)-1].Hash, from, int64(len(t.heads[rep.Shop])), t)
	}
}

// joint adds the heads of a record and all that was told while it was the newest.
func (rep *MachineReport) joint(hash []byte, from, to int64, t told) {
	for seq := from; seq <= to; seq++ {
		if told, ok := t.at(rep.Shop, seq); ok {
			rep.Hashes = append(rep.Hashes, seal.Joint(hash, told))
		}
	}
}
