package ask

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/engine"
)

// CheckPaid asks back a printed figure above what was put in: probably money.
// Where more was taken out than put in, what was taken out says nothing.
func CheckPaid(c *engine.Talk, l Line, n int64) Doubt {
	var in, out int64
	for _, b := range Target(c).Boxes {
		if b.Face == l.Face {
			in, out = in+b.Loaded+b.Added, out+b.Removed
		}
	}
	if out <= in {
		in -= out
	}
	if n <= in {
		return Doubt{}
	}
	if notes, ok := AsMoney(l, n); ok && notes <= in {
		return Doubt{Why: "money-paid", Likely: notes}
	}
	return Doubt{Why: "paid-more", Likely: 0}
}

// CheckFits asks back a count that is more than the box holds. It knows only
// the box, so it may be asked while nobody may see what should be there.
func CheckFits(_ *engine.Talk, l Line, n int64) Doubt {
	if l.Capacity == 0 || n <= l.Capacity {
		return Doubt{}
	}
	d := Doubt{Why: "capacity", Hard: true}
	if notes, ok := AsMoney(l, n); ok && notes <= l.Capacity {
		return Doubt{Why: "money", Likely: notes, Hard: true}
	}
	d.Likely = Slid(n, l.Capacity)
	return d
}

// Slid is a count with one nought less, or two, that is at most so many notes; 0
// where there is none.
func Slid(n, most int64) int64 {
	for _, slid := range []int64{n / 10, n / 100} {
		if slid > 0 && slid <= most && n%10 == 0 {
			return slid
		}
	}
	return 0
}

// AsMoney reads a number of notes as an amount of money.
func AsMoney(l Line, n int64) (notes int64, ok bool) {
	notes, ok = cashmath.NotesFor(decimal.NewFromInt(n), l.Face)
	return notes, ok && notes > 0 && notes != n
}

// CheckLoad asks back a load that does not fit, is probably an amount of
// money, or is far from what the shop usually loads.
func CheckLoad(c *engine.Talk, l Line, n int64) Doubt {
	if d := CheckFits(c, l, n); d.Why != "" {
		if d.Likely == 0 && l.Usual > 0 {
			d.Likely = l.Usual
		}
		return d
	}
	if l.Usual == 0 || !Far(n, l.Usual) {
		return Doubt{}
	}
	if notes, ok := AsMoney(l, n); ok && !Far(notes, l.Usual) {
		return Doubt{Why: "money-usual", Likely: notes}
	}
	if n == 0 {
		return Doubt{Why: "none", Likely: l.Usual}
	}
	for _, slid := range []int64{n / 10, n * 10} {
		if slid != n && near(slid, l.Usual) {
			return Doubt{Why: "far", Likely: slid}
		}
	}
	return Doubt{Why: "far", Likely: l.Usual}
}

// Far reports whether a count is outside a third to three times the usual one,
// and by more than a handful of notes. Common practice, no source.
func Far(n, usual int64) bool {
	return (n*3 < usual || n > usual*3) && max(n-usual, usual-n) > 20
}

// near reports whether a count is between half and twice the usual one.
func near(n, usual int64) bool { return n*2 >= usual && n <= usual*2 }
