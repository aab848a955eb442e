package dialogs

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// checkFits asks back a count that is more than the box holds. It knows only
// the box, so it may be asked while nobody may see what should be there.
func checkFits(_ *talk, l line, n int64) doubt {
	if l.capacity == 0 || n <= l.capacity {
		return doubt{}
	}
	d := doubt{why: "capacity", hard: true}
	if notes, ok := asMoney(l, n); ok && notes <= l.capacity {
		return doubt{why: "money", likely: notes, hard: true}
	}
	for _, slid := range []int64{n / 10, n / 100} {
		if slid > 0 && slid <= l.capacity && n%10 == 0 {
			d.likely = slid
			return d
		}
	}
	return d
}

// asMoney reads a number of notes as an amount of money.
func asMoney(l line, n int64) (notes int64, ok bool) {
	notes, ok = cashmath.NotesFor(decimal.NewFromInt(n), l.face)
	return notes, ok && notes > 0 && notes != n
}

// checkLoad asks back a load that does not fit, is probably an amount of
// money, or is far from what the shop usually loads.
func checkLoad(c *talk, l line, n int64) doubt {
	if d := checkFits(c, l, n); d.why != "" {
		if d.likely == 0 && l.usual > 0 {
			d.likely = l.usual
		}
		return d
	}
	if l.usual == 0 || !far(n, l.usual) {
		return doubt{}
	}
	if notes, ok := asMoney(l, n); ok && !far(notes, l.usual) {
		return doubt{why: "money-usual", likely: notes}
	}
	if n == 0 {
		return doubt{why: "none", likely: l.usual}
	}
	for _, slid := range []int64{n / 10, n * 10} {
		if slid != n && near(slid, l.usual) {
			return doubt{why: "far", likely: slid}
		}
	}
	return doubt{why: "far", likely: l.usual}
}

// far reports whether a count is outside a third to three times the usual one,
// and by more than a handful of notes. Common practice, no source.
func far(n, usual int64) bool {
	return (n*3 < usual || n > usual*3) && max(n-usual, usual-n) > 20
}

// near reports whether a count is between half and twice the usual one.
func near(n, usual int64) bool { return n*2 >= usual && n <= usual*2 }
