package diagnosis

import "shopfloat/internal/cashmath"

// bundlesMax is how many bundles somebody may miss and not notice.
const bundlesMax = 3

// shapes lists the slips that only the shape of the variance suggests.
func (b *books) shapes() []suspect {
	lines := b.variance.lines()
	switch len(lines) {
	case 1:
		if !b.wholeBundles(lines[0], b.variance[lines[0]]) {
			return nil
		}
		return []suspect{{
			slip:     Slip{ID: BundleMiscounted, Face: b.faces[lines[0]]},
			effect:   b.variance,
			strength: shape,
			bits:     kindBits + choice(2*bundlesMax) + choice(len(b.faces)),
		}}
	case 2:
		return b.cassettesExchanged(lines[0], lines[1])
	}
	return nil
}

func (b *books) wholeBundles(line int, notes int64) bool {
	per := b.perBundle(line)
	return notes%per == 0 && max(notes, -notes) <= bundlesMax*per
}

func (b *books) perBundle(line int) int64 {
	face := b.faces[line]
	if per := b.facts.Bundle[face]; per > 0 {
		return per
	}
	return cashmath.NotesPerBundle(b.facts.Currency, face)
}

// cassettesExchanged: with two cassettes in each other's place the machine paid one
// kind for the other, so that each line is off by the difference of the two paid-out
// counts. Two exchanged paid-out figures look exactly the same; this one has the
// strength of that other reading and is named first, because customers were paid
// wrongly.
func (b *books) cassettesExchanged(high, low int) []suspect {
	day := b.facts.Day
	paid := func(line int) int64 { return day.Dispensed[b.faces[line]] }
	net := func(line int) int64 { return paid(line) - day.Reversed[b.faces[line]] }
	v := b.variance
	fits := v[high] == paid(high)-paid(low) || v[high] == net(high)-net(low)
	if v[high] != -v[low] || !fits {
		return nil
	}
	return []suspect{{
		slip:     Slip{ID: CassettesExchanged, Face: b.faces[high], OtherFace: b.faces[low]},
		effect:   v,
		strength: altered,
		bits:     kindBits + choice(len(b.faces)),
	}}
}
