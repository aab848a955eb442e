package diagnosis

import (
	"maps"

	"shopfloat/internal/cashmath"
)

// events lists every slip that an event on record would explain, whatever the
// variance is. Slips of one kind that touch several lines are also listed for each
// line alone, at a price, where a person can make the slip on one line.
func (b *books) events() []suspect {
	var all []suspect
	all = append(all, b.topupTwice()...)
	all = append(all, b.topupUnrecorded()...)
	all = append(all, b.rejects()...)
	all = append(all, b.reversalSign()...)
	all = append(all, b.fromBefore()...)
	return append(all, b.testNotes()...)
}

// whole makes a suspect of an effect on all its lines, or none if it has no effect.
func (b *books) whole(slip Slip, e effect, bits int) []suspect {
	if e.none() {
		return nil
	}
	return []suspect{{slip: b.named(slip, e), effect: e, strength: event, bits: kindBits + bits}}
}

// partBits prices a slip that concerns one line of an event over several.
const partBits = 4

// eachLine is whole, and then each line alone where there are several.
func (b *books) eachLine(slip Slip, e effect, bits int) []suspect {
	suspects := b.whole(slip, e, bits)
	lines := e.lines()
	if len(lines) < 2 {
		return suspects
	}
	for _, line := range lines {
		for _, s := range b.whole(slip, e.only(line), bits+partBits+choice(len(lines))) {
			s.partial = true
			suspects = append(suspects, s)
		}
	}
	return suspects
}

// topupTwice: two equal entries, one load. Expected is too high by the entry. Equal
// entries are rare by chance, which speaks for the slip.
func (b *books) topupTwice() []suspect {
	const rareBits = -3
	var suspects []suspect
	topups := b.facts.Day.Topups
	for later, topup := range topups[:min(len(topups), lotsMax)] {
		for _, earlier := range topups[:later] {
			shared := equalPart(topup, earlier)
			if len(shared) == 0 {
				continue
			}
			slip := Slip{ID: TopupTwice, Field: Topups, Lot: later}
			for _, s := range b.eachLine(slip, b.along(shared, -1), rareBits) {
				if s.slip.OtherFace == "" && s.slip.Face != "" {
					s.slip.Typed = figure(shared[s.slip.Face])
				}
				suspects = append(suspects, s)
			}
		}
	}
	return suspects
}

// lotsMax bounds the comparison of every top-up with every other.
const lotsMax = 50

// equalPart is what two lots have in common: the faces with the same count.
func equalPart(a, b cashmath.Notes) cashmath.Notes {
	shared := maps.Clone(a)
	maps.DeleteFunc(shared, func(face cashmath.Face, count int64) bool {
		return count == 0 || b[face] != count
	})
	return shared
}

// topupUnrecorded: the machine was told of more notes than the record holds, or a
// top-up was noted elsewhere. How much was loaded is free, so that costs bits.
func (b *books) topupUnrecorded() []suspect {
	slip := Slip{ID: TopupUnrecorded, Field: Topups, Lot: len(b.facts.Day.Topups)}
	var suspects []suspect
	for _, noted := range b.facts.Noted {
		suspects = append(suspects, b.eachLine(slip, b.along(noted, +1), 0)...)
	}
	excesses := []effect{b.declaredExcess()}
	if removed := b.along(cashmath.Sum(b.facts.Day.Removed...), -1); !removed.none() {
		excesses = append(excesses, excesses[0].less(removed)) // the machine was told of that as well
	}
	for _, excess := range excesses {
		for line, face := range b.faces {
			if _, known := b.facts.Declared[face]; !known || excess[line] < 0 {
				excess[line] = 0
			}
		}
		for _, s := range b.eachLine(slip, excess, 0) {
			s.bits += b.amountBits(s.effect)
			suspects = append(suspects, s)
		}
	}
	for i, s := range suspects {
		if lines := s.effect.lines(); len(lines) == 1 {
			suspects[i].slip.Likely = figure(s.effect[lines[0]])
		}
	}
	return suspects
}

// amountBits prices a top-up of any size: less if it is as round as this shop's loads.
func (b *books) amountBits(e effect) int {
	const anyAmount, roundAmount = 8, 6
	for _, notes := range e {
		if !b.tidy || notes%10 != 0 {
			return anyAmount
		}
	}
	return roundAmount
}

// declaredExcess is by how much the machine's declared count exceeds the record, on
// the lines for which a declared count exists.
func (b *books) declaredExcess() effect {
	excess := make(effect, len(b.faces))
	for line, face := range b.faces {
		if declared, known := b.facts.Declared[face]; known {
			excess[line] = declared - b.in[face]
		}
	}
	return excess
}

// rejects: the box for refused notes entered as nothing, or counted twice.
func (b *books) rejects() []suspect {
	tray := b.along(b.facts.Day.Rejects, +1)
	if !tray.none() {
		return b.whole(Slip{ID: RejectsCountedTwice, Field: Rejects}, tray, 0)
	}
	slip := Slip{ID: RejectsMissed, Field: Rejects, Typed: figure(0)}
	byMachine := b.along(b.facts.MachineRejected, -1)
	suspects := b.whole(slip, byMachine, 0)
	if reversed := b.along(b.facts.Day.Reversed, -1); !reversed.equals(byMachine) {
		suspects = append(suspects, b.whole(slip, reversed, 1)...)
	}
	for i, s := range suspects {
		if lines := s.effect.lines(); len(lines) == 1 {
			suspects[i].slip.Likely = figure(-s.effect[lines[0]])
		}
	}
	return suspects
}

// reversalSign: the paid-out figure was already net of what was cancelled, or the
// cancelled notes were taken the wrong way, which by the rule of two shows as twice
// their number.
func (b *books) reversalSign() []suspect {
	const oneOfFour, oftenFits = 2, 1 // a few notes were cancelled on many days
	var suspects []suspect
	for _, factor := range []int64{-1, +1, -2, +2} {
		slip := Slip{ID: ReversalSign, Field: Dispensed}
		if factor == 2 || factor == -2 {
			slip.Field = Reversed
		}
		for _, s := range b.eachLine(slip, b.along(b.facts.Day.Reversed, factor), oneOfFour+oftenFits) {
			suspects = append(suspects, b.reversalFigures(s))
		}
	}
	return suspects
}

func (b *books) reversalFigures(s suspect) suspect {
	lines := s.effect.lines()
	if len(lines) != 1 {
		return s
	}
	face, day := b.faces[lines[0]], b.facts.Day
	if s.slip.Field == Reversed {
		s.slip.Typed = figure(day.Reversed[face])
		return s
	}
	typed := day.Dispensed[face]
	if likely := typed - s.effect[lines[0]]; likely >= 0 {
		s.slip.Typed, s.slip.Likely = figure(typed), figure(likely)
	}
	return s
}

// fromBefore: the difference of the period before comes back with the other sign,
// or its remaining notes stayed in and were not counted into the load.
func (b *books) fromBefore() []suspect {
	if b.facts.Previous == nil {
		return nil
	}
	before := cashmath.Notes{}
	for _, line := range cashmath.Reconcile(*b.facts.Previous).Lines {
		before[line.Face] = line.VarianceNotes
	}
	suspects := b.eachLine(Slip{ID: CarriedOver}, b.along(before, -1), 0)
	slip := Slip{ID: LeftInOvernight, Field: Loaded}
	leftIn := b.eachLine(slip, b.along(b.facts.Previous.Remaining, +1), 0)
	if len(b.facts.Previous.Rejects) > 0 { // the box for refused notes was not emptied either
		leftIn = append(leftIn, b.whole(slip, b.along(b.facts.Previous.Counted(), +1), 2)...)
	}
	for _, s := range leftIn {
		if lines := s.effect.lines(); len(lines) == 1 {
			typed := b.facts.Day.Loaded[b.faces[lines[0]]]
			s.slip.Typed, s.slip.Likely = figure(typed), figure(typed+s.effect[lines[0]])
		}
		suspects = append(suspects, s)
	}
	return suspects
}

// testNotes: the notes of a test are missing from the count, or were no longer among
// the paid-out ones.
func (b *books) testNotes() []suspect {
	slip := Slip{ID: TestNotes}
	suspects := b.whole(slip, b.along(b.facts.Day.Test, -1), 0)
	return append(suspects, b.whole(slip, b.along(b.facts.Day.Test, +1), 2)...)
}

// transport: after a jam, notes may lie on the way through the machine. Any small
// shortage fits, so the amount costs bits.
func (b *books) transport(rest effect) []suspect {
	room := b.facts.Jams * b.facts.LargestDispense
	missing := int64(0)
	for _, notes := range rest {
		if notes > 0 {
			return nil
		}
		missing -= notes
	}
	if missing == 0 || missing > room {
		return nil
	}
	bits := len(rest.lines()) * (magnitude(room) + choice(len(b.faces)))
	if !b.along(b.facts.Day.Found, 1).none() {
		bits += 3 // notes were looked for and found already
	}
	return b.whole(Slip{ID: NoteInTransport}, rest, bits)
}
