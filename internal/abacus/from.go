package abacus

import "shopfloat/internal/books"

// From gives of a ledger the entries from a number on, and those earlier ones
// that they undo or correct: all that what is in force from there on hangs on.
func From(entries []books.Entry, seq int64) []books.Entry {
	wanted := map[int64]bool{}
	for _, e := range entries {
		if e.Seq >= seq && (e.Kind == books.Undo || e.Kind == books.Correction) {
			wanted[e.Target] = true
		}
	}
	var list []books.Entry
	for _, e := range entries {
		if e.Seq >= seq || wanted[e.Seq] {
			list = append(list, e)
		}
	}
	return list
}
