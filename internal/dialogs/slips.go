package dialogs

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
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

// totalSlip explains a printed total that differs by a slip in the total
// itself, or by two boxes typed the other way round.
func (c *talk) totalSlip(p *books.Period, printed, ours decimal.Decimal) []string {
	notes := int64(0)
	for _, b := range p.Boxes {
		notes += b.Loaded
	}
	switch {
	case printed.Equal(decimal.NewFromInt(notes)):
		return []string{c.v.Say("printed.notes")}
	case printed.Equal(ours.Shift(1)), printed.Shift(1).Equal(ours):
		return []string{c.v.Say("printed.zero")}
	}
	for i, a := range p.Boxes {
		for _, b := range p.Boxes[i+1:] {
			turned := cashmath.Value(a.Face, b.Loaded-a.Loaded).Add(cashmath.Value(b.Face, a.Loaded-b.Loaded))
			if a.Face != b.Face && !turned.IsZero() && turned.Equal(printed.Sub(ours)) {
				return []string{c.v.Say("printed.exchanged", "one", c.v.Kind(a.Face), "other", c.v.Kind(b.Face))}
			}
		}
	}
	return nil
}

// slip is one figure that was probably typed into the machine wrongly.
type slip struct {
	box   books.BoxState
	typed int64
}

// maxSlips is how many explanations a person is shown at most.
const maxSlips = 2

// likelySlips explains a printed total that differs from ours by one slip in
// one line: every line where there is such a slip, as long as they are few.
// diff is printed less ours.
func likelySlips(p *books.Period, diff decimal.Decimal) []slip {
	var found []slip
	for _, b := range p.Boxes {
		notes, exact := cashmath.NotesFor(diff.Abs(), b.Face)
		typed := b.Loaded + notes
		if diff.IsNegative() {
			typed = b.Loaded - notes
		}
		if exact && typed >= 0 && slipOf(typed, b) {
			found = append(found, slip{box: b, typed: typed})
		}
	}
	if len(found) > maxSlips {
		return nil
	}
	return found
}

// slipOf reports whether one figure is the other mistyped.
func slipOf(typed int64, b books.BoxState) bool {
	value, whole := cashmath.NotesFor(cashmath.Value(b.Face, b.Loaded), "1")
	return typed == 0 && b.Loaded > 0 || whole && typed == value ||
		cashmath.Transposition(typed, b.Loaded) > 0 || cashmath.Slide(typed, b.Loaded) != cashmath.NoSlide
}
