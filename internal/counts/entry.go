package counts

import "github.com/shopspring/decimal"

// partsMax bounds the numbers kept apart in one sum; more boxes of one face do not exist.
const partsMax = 8

// quantity is how many notes, or how much money, an entry gives.
type quantity struct {
	parts   [partsMax]int64 // loose numbers in the order typed
	nParts  int
	bundles int64
	bundled bool
	money   decimal.Decimal
	isMoney bool
	word    bool // a single number in words
	run     int  // index+1 of the figure atom when the quantity is that figure alone
	foreign bool
	code    Code
}

// entry is a quantity with what it is for, if that was said.
type entry struct {
	quantity
	start, end int // in the text
	atom       int // index of its first atom
	row        int
	keyed      bool
	extra      bool   // a bare number right behind an entry that has its count
	behind     bool   // right behind a bare number
	line       int    // of a place, -1 none
	face       string // empty none
}

// add adds a loose number.
func (q *quantity) add(f figure) {
	n, code := notesOfFigure(f)
	switch {
	case code != OK:
		q.fail(code)
	case q.nParts == partsMax:
		q.fail(TooMany)
	default:
		q.parts[q.nParts] = n
		q.nParts++
	}
}

// fail keeps the first fault.
func (q *quantity) fail(code Code) {
	if q.code == OK {
		q.code = code
	}
}

// isZero recognizes a quantity of no notes.
func (q *quantity) isZero() bool {
	return q.code == OK && !q.isMoney && !q.bundled && q.nParts == 1 && q.parts[0] == 0
}

// notes is the whole quantity with bundles of the given size, 0 unknown.
func (q *quantity) notes(bundle int64) (int64, Code) {
	if q.code != OK {
		return 0, q.code
	}
	if q.bundled && bundle <= 0 {
		return 0, NoBundle
	}
	var n int64
	for _, part := range q.parts[:q.nParts] {
		n += part
	}
	if q.bundles > 0 && bundle > (MaxNotes-min(n, MaxNotes))/q.bundles || n > MaxNotes {
		return 0, TooBig
	}
	return n + q.bundles*bundle, OK
}
