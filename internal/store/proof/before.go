package proof

import (
	"slices"

	"shopfloat/internal/books"
)

// before are the books as they were after some of the entries, oldest first and the more of
// them the newer: what takes an entry back or corrects it is worked out from the last before
// that on. Nothing that came later changed what is before them. There is always the first,
// of no entry.
type before []*books.Machine

// keepEach is how many entries are between the newest.
const keepEach = 16

// keep takes the books after an entry in, where it is time. Of those before, each is about
// twice as far away as the next.
func (b *before) keep(m *books.Machine) {
	list := *b
	if m.Seq-list[len(list)-1].Seq < keepEach {
		return
	}
	list = append(list, m.Clone())
	for i := len(list) - 2; i > 0; i-- {
		if m.Seq-list[i-1].Seq <= 2*(m.Seq-list[i+1].Seq+keepEach) {
			list = slices.Delete(list, i, i+1)
		}
	}
	*b = list
}

// changed gives the last before an entry, from which on something holds otherwise now, and
// drops those after it.
func (b *before) changed(seq int64) *books.Machine {
	list := *b
	for len(list) > 1 && list[len(list)-1].Seq >= seq {
		list = list[:len(list)-1]
	}
	*b = list
	return list[len(list)-1]
}

// changesFrom is the first entry of which an undo changes the effect: of what a correction
// that it takes back is about.
func changesFrom(entries []books.Entry, undo books.Entry) int64 {
	if t := undo.Target; t > 0 && t <= int64(len(entries)) && entries[t-1].Kind == books.Correction {
		return entries[t-1].ChangesFrom()
	}
	return undo.Target
}
