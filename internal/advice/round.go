package advice

import "shopfloat/internal/cashmath"

// rounding is how the notes of one kind are made a number to load.
type rounding struct {
	step     int64 // notes; 1 or the bundle
	whole    bool  // only full steps
	capacity int64 // notes to fill the boxes with at most
	hand     int64 // -1: as many as it takes
}

// Round numbers are easier to count out: fives, and tens from a hundred on.
const fives, tens, tensFrom = 5, 10, 100

// fullest is how full to fill a box, in percent: packed to the brim notes feed badly (common
// practice, no source; the provider's word counts).
const fullest = 85

func (o *Outlook) rounding(face cashmath.Face, hand map[cashmath.Face]int64) rounding {
	r := rounding{hand: -1}
	for _, b := range o.kit.Boxes {
		if b.Face == face {
			r.capacity += b.Capacity * fullest / 100
		}
	}
	if n := o.shop.Bundle(face); o.shop.Load.Whole && n > 0 {
		r.step, r.whole = n, true
	}
	if hand != nil {
		r.hand = hand[face]
	}
	return r
}

func (r rounding) stepFor(n int64) int64 {
	switch {
	case r.whole:
		return r.step
	case n > tensFrom:
		return tens
	}
	return fives
}

// up and down round to a full step.
func (r rounding) up(n int64) int64 {
	step := r.stepFor(n)
	return (n + step - 1) / step * step
}

func (r rounding) down(n int64) int64 { return n / r.stepFor(n) * r.stepFor(n) }

// fit keeps a load within what the boxes hold and what is at hand.
func (r rounding) fit(n int64) (int64, Cut) {
	most, cut := r.capacity, Capacity
	if r.hand >= 0 && r.hand < most {
		most, cut = r.hand, Hand
	}
	switch {
	case n <= most:
		return n, ""
	case r.whole && r.down(most) < most:
		return r.down(most), cutOf(cut, r)
	}
	return most, cut
}

// cutOf names the bundle where a part of one would still fit.
func cutOf(cut Cut, r rounding) Cut {
	if cut == Capacity && r.capacity >= r.step {
		return Bundle
	}
	return cut
}

// instead makes up for dearer notes that are not at hand with cheaper ones that
// are, worth no less: customers who would have got a fifty get twenties.
func instead(lines []Line, room []rounding) {
	for i := range lines {
		if lines[i].Cut != Hand {
			continue
		}
		lack := cashmath.Value(lines[i].Face, lines[i].Enough-lines[i].Notes)
		for j := i + 1; j < len(lines) && lack.IsPositive(); j++ {
			more := lack.Div(lines[j].Face.Decimal()).Ceil().IntPart()
			n, _ := room[j].fit(lines[j].Notes + more)
			put := max(n-lines[j].Notes, 0)
			lines[j].Notes, lines[j].Instead = lines[j].Notes+put, lines[j].Instead+put
			lack = lack.Sub(cashmath.Value(lines[j].Face, put))
		}
	}
}
