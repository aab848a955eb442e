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

// changesFrom is the first entry of which an undo or a correction changes the effect: of what
// it is about itself, or of a period that this was ever moved to.
func changesFrom(entries []books.Entry, e books.Entry) int64 {
	from := e.Target
	if from <= 0 || from > int64(len(entries)) {
		return from
	}
	about := entries[from-1]
	if e.Kind == books.Undo {
		if about.Kind == books.Correction {
			return changesFrom(entries, about)
		}
		return from
	}
	for _, x := range append(entries[from:len(entries):len(entries)], e) {
		if in := x.Instead; x.Target == e.Target && in != nil && in.Period != 0 && in.Period != about.Period {
			from = min(from, in.Period)
		}
	}
	return from
}
