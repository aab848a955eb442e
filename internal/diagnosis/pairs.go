package diagnosis

import (
	"math/bits"
	"slices"
)

// pairs lists two slips that explain the variance together and are more believable
// than notes simply being gone.
func (b *books) pairs(events []suspect) []explanation {
	s := search{budget: b.lossBits()}
	for _, jam := range b.transport(b.variance) {
		s.budget = max(s.budget, jam.bits+slackBits)
	}
	misplaced := b.misplacements(b.allLines())
	for i, first := range events {
		rest := b.variance.less(first.effect)
		s.match(first, rest, events[i+1:])
		s.matchMisplaced(first, rest, misplaced)
		s.settle(first, rest, b)
	}
	for i, first := range misplaced {
		rest := b.variance.less(first.effect)
		s.matchMisplaced(first, rest, misplaced[i+1:])
		if rest.touched() == 1 {
			s.settle(first, rest, b.corrected(first))
		}
	}
	for _, first := range b.rereadings() {
		rest := b.variance.less(first.effect)
		s.settle(first, rest, b)
		s.declared(first, rest, b)
	}
	s.lineByLine(b)
	return s.found
}

// hidden lists two slips where one would do: of a top-up that only the machine's declared count
// shows, a part may be a load that was written down in bundles.
func (b *books) hidden() []explanation {
	s := search{budget: b.lossBits()}
	for _, first := range b.rereadings() {
		if first.slip.ID == TypedInBundles {
			s.declared(first, b.variance.less(first.effect), b)
		}
	}
	return s.found
}

func otherThanTopup(x explanation) bool { return x.suspects[0].slip.ID != TopupUnrecorded }

// search collects pairs that cost no more than the budget.
type search struct {
	budget int
	found  []explanation
}

// keep drops pairs on one line in which a digit of any value would fit: there, some
// pair explains every difference, which explains nothing. Nor is one figure misread twice.
func (s *search) keep(first, second suspect) {
	if (first.free || second.free) && first.effect.meets(second.effect) || first.rereads(second) {
		return
	}
	if x := both(first, second); x.bits <= s.budget {
		s.found = append(s.found, x)
	}
}

// match looks for a second slip among candidates. Two readings of one event are no
// two slips, unless they concern different lines.
func (s *search) match(first suspect, rest effect, candidates []suspect) {
	for _, second := range candidates {
		sameEvent := first.strength == event && first.slip.ID == second.slip.ID
		if second.effect.equals(rest) && !(sameEvent && first.effect.meets(second.effect)) {
			s.keep(first, second)
		}
	}
}

// matchMisplaced is match for figures on each other's line, which concern two lines.
func (s *search) matchMisplaced(first suspect, rest effect, misplaced []suspect) {
	if rest.touched() == 2 {
		s.match(first, rest, misplaced)
	}
}

// settle looks for one figure of b, or a jam, that explains the rest.
func (s *search) settle(first suspect, rest effect, b *books) {
	seconds := b.transport(rest)
	switch lines := rest.lines(); len(lines) {
	case 1:
		seconds = append(seconds, b.misreadings(lines[0], rest[lines[0]])...)
	case 2:
		seconds = append(seconds, b.merged(rest)...)
	}
	for _, second := range seconds {
		s.keep(first, second)
	}
}

// declared looks for a top-up that only shows in the machine's declared count once
// the first figure is read as it should be.
func (s *search) declared(first suspect, rest effect, b *books) {
	if first.slip.Field != Loaded && first.slip.Field != Topups {
		return
	}
	excess := b.declaredExcess()
	line := b.lineOf[first.slip.Face]
	excess[line] += *first.slip.Typed - *first.slip.Likely
	if !excess.equals(rest) || slices.Min(rest) < 0 {
		return
	}
	slip := Slip{ID: TopupUnrecorded, Field: Topups, Lot: len(b.facts.Day.Topups)}
	for _, second := range b.whole(slip, rest, b.amountBits(rest)) {
		s.keep(first, second)
	}
}

// lineByLine explains each line by a figure of its own.
func (s *search) lineByLine(b *books) {
	for _, line := range b.variance.lines() {
		for _, first := range b.misreadings(line, b.variance[line]) {
			s.settle(first, b.variance.less(first.effect), b)
		}
	}
}

// corrected is b with misplaced figures on their right lines, so that one of them
// may be misread as well. A second record says nothing about a figure that moved.
func (b *books) corrected(misplaced suspect) *books {
	c := *b
	c.facts.Declared, c.facts.MachineRejected = nil, nil
	c.entries = slices.Clone(b.entries)
	if at := misplaced.at; len(at) == 2 {
		c.entries[at[0]].typed, c.entries[at[1]].typed = b.entries[at[1]].typed, b.entries[at[0]].typed
	} else {
		c.entries[at[0]].line = b.lineOf[misplaced.slip.OtherFace]
	}
	return &c
}

// lossBits prices the plain loss of the missing notes: which line, and how many.
// Losses are small: up to 63 notes every doubling costs a bit, beyond that four.
// Notes do not appear from nowhere, so a surplus costs more.
func (b *books) lossBits() int {
	const habit, surplus, usual = 3, 6, 6
	total := 0
	for _, notes := range b.variance {
		if notes == 0 {
			continue
		}
		size := bits.Len64(uint64(max(notes, -notes)))
		total += choice(len(b.faces)) + habit + size + 3*max(size-usual, 0)
		if notes > 0 {
			total += surplus
		}
	}
	return total
}
