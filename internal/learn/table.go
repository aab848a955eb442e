package learn

import (
	"math/bits"
	"slices"
)

// table finds the row of a mark by its hash, with at most half of its places taken: a text has some hundred
// marks, and a map takes twice as long to find them.
type table struct {
	places []place
	shift  uint
	n      int
}

// place is a mark and its row, counted from one; a row of none is a place that is free.
type place struct {
	key uint32
	row int32
}

// tableFor makes a table for so many marks.
func tableFor(n int) table {
	size := bits.Len(uint(max(2*n-1, 1)))
	return table{places: make([]place, 1<<size), shift: uint(32 - size)}
}

// at is where a mark is, or would be. Hashes are spread by Fibonacci hashing (Knuth, volume 3, 6.4).
func (t *table) at(key uint32) int {
	i := int(key * 2654435769 >> t.shift)
	for t.places[i].row != 0 && t.places[i].key != key {
		i = (i + 1) & (len(t.places) - 1)
	}
	return i
}

// put notes the row of a mark that is not there yet.
func (t *table) put(key uint32, row int32) {
	if at := t.at(key); t.places[at].row == 0 {
		t.places[at] = place{key, row + 1}
		t.n++
	}
}

// row gives the row of a mark.
func (t *table) row(key uint32) (int32, bool) {
	if len(t.places) == 0 {
		return 0, false
	}
	p := t.places[t.at(key)]
	return p.row - 1, p.row != 0
}

// keys are all marks in their order.
func (t *table) keys() []uint32 {
	list := make([]uint32, 0, t.n)
	for _, p := range t.places {
		if p.row != 0 {
			list = append(list, p.key)
		}
	}
	slices.Sort(list)
	return list
}
