package telling

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/lines"
)

// OverWith says what stands against more money in the boxes of a period, counted with the most
// that they can hold before it; empty for nothing. The period is nil where it is open no more.
func OverWith(t *Teller, p *books.Period, more decimal.Decimal) string {
	if p != nil {
		for _, b := range p.Boxes {
			n, _ := p.Estimate(b.Position)
			more = more.Add(cashmath.Value(b.Face, n))
		}
	}
	return OverLimit(t, more)
}

// SealedOffer are the sealed bundles that are usually put in by a top-up, in notes by line. Nil:
// there are none, something speaks against them, or nobody may see now what is usual.
func SealedOffer(t *Teller, p *books.Period, list []lines.Line) []int64 {
	loads := lines.Loads(t.Kit.Boxes, t.M)
	v := lines.Sealed(list, loads, t.F.Shop.Bundle, t.M.Recent)
	if v == nil || t.Hidden() {
		return nil
	}
	for i, l := range list {
		if v[i] > 0 && lines.Added(p, l, v[i], lines.UsualOf(loads, l)).Why != "" {
			return nil
		}
	}
	if _, total := CountTable(t, list, v); OverWith(t, p, total) != "" {
		return nil
	}
	return v
}
