package books

import "slices"

// early is a part of a payment, or of what is given up, that takes effect before the
// settlement it is for.
type early struct {
	in   *turn
	part Part
}

// earlies finds, by settlement, what was paid or given up for it by records that take effect
// before it because a correction says so of one of the two: a slip may belong to a day that was
// entered later than the bank paid for it.
func earlies(turns []*turn) map[int64][]early {
	var list map[int64][]early
	come := map[int64]*turn{} // settlements still to come, in the order of the turns
	for _, t := range slices.Backward(turns) {
		switch {
		case t.idle:
			continue
		case t.Kind == Settlement:
			come[t.Seq] = t
		}
		for _, p := range t.Parts {
			slip := come[p.Of]
			if slip == nil || p.As == Pays && !t.says(paysLater) && !slip.movedBy(paysLater) ||
				p.As == GivenUp && !slip.movedBy(forgoesLater) || p.As != Pays && p.As != GivenUp {
				continue
			}
			if list == nil {
				list = map[int64][]early{}
			}
			list[p.Of] = append(list[p.Of], early{in: t, part: p})
		}
	}
	return list
}

// says reports whether a correction of at least a rule says what holds of an entry.
func (t *turn) says(rule Rule) bool { return t.by != nil && t.by.Rule >= rule }

// movedBy reports whether a correction of at least a rule moved an entry to another period.
func (t *turn) movedBy(rule Rule) bool { return t.elsewhere && t.says(rule) }

// lastBearing is the last correction that bears with what was given up before it; 0: none. What it
// is about may be in the books already.
func lastBearing(turns []*turn) (last int64) {
	for _, t := range turns {
		if t.Kind == Correction && !t.void && t.Rule >= forgoesLater {
			last = max(last, t.Seq)
		}
	}
	return last
}

// reach takes what was paid early and kept apart since, or given up early, off its claim.
func (m *Machine) reach(paid []early) {
	for _, x := range paid {
		switch c := m.Claim(x.part.Of); {
		case !x.in.done:
		case x.part.As == Pays:
			m.keepLoose(&x.in.Entry, Part{As: Unknown, Value: x.part.Value.Neg()})
			m.settleClaim(&x.in.Entry, x.part)
		case c != nil: // a slip of nothing is none
			m.forgo(c, x.part.Value)
		}
	}
}
