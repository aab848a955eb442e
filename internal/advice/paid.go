package advice

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// paidOut gives what a closed period paid to customers, by kind: by its slips,
// or, where they tell money only or some are missing, by what left the boxes.
func paidOut(p *books.Period) books.Notes {
	d := p.Day()
	paid := books.Notes{}
	for _, b := range p.Boxes {
		paid[b.Face] += 0 // a kind of which nothing was paid is known, too
	}
	if p.TotalOnly() || p.Has(books.Unsettled) || len(p.Slips) == 0 {
		for face := range paid {
			paid[face] = max(putIn(p, face)-d.Remaining[face]-d.Rejects[face]-d.Found[face], 0)
		}
		return paid
	}
	for face := range paid {
		paid[face] = max(d.Dispensed[face]-d.Reversed[face]-d.Test[face], 0)
	}
	return paid
}

// putIn is what a period put into the boxes of a kind and did not take out again
// before the count.
func putIn(p *books.Period, face cashmath.Face) int64 {
	n := int64(0)
	for _, b := range p.Boxes {
		if b.Face == face {
			n += b.Loaded + b.Added - b.Removed
		}
	}
	return n
}

// emptied is when a level check first found nothing of a kind, and nothing was put in
// afterwards; zero: none did.
func emptied(p *books.Period, face cashmath.Face) (at time.Time) {
	for _, r := range p.Readings {
		inside, held := int64(0), int64(0)
		for i, b := range p.Boxes {
			if b.Face == face {
				inside, held = inside+r.Boxes[i], held+r.Held[i]
			}
		}
		if inside == 0 && held == putIn(p, face) && (at.IsZero() || r.Happened.Before(at)) {
			at = r.Happened
		}
	}
	return at
}

// askedMost bounds how far a day that ran out early is stretched: what the first hours saw says
// little about the others.
const askedMost = 2

// asked is the least that customers asked for of a kind on one day, which traded from open to
// close: what was paid, and where a level check found the kind empty and nothing was put in
// afterwards, as much again for the hours that were left.
func (k PaidOut) asked(open, close time.Time) float64 {
	empty := close
	if !k.Emptied.IsZero() && k.Emptied.Before(close) {
		empty = k.Emptied
	}
	if !empty.After(open) || !close.After(open) {
		return float64(k.Paid)
	}
	return float64(k.Paid) * min(close.Sub(open).Seconds()/empty.Sub(open).Seconds(), askedMost)
}

// ranOut reports whether every box of a kind was empty at the count, or at a
// level check in between.
func ranOut(p *books.Period, face cashmath.Face) bool {
	empty := true
	for _, b := range p.Boxes {
		empty = empty && (b.Face != face || b.Remaining == 0)
	}
	for _, r := range p.Readings {
		none := true
		for i, b := range p.Boxes {
			none = none && (b.Face != face || r.Boxes[i] == 0)
		}
		empty = empty || none
	}
	return empty
}
