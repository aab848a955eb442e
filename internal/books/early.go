package books

// early is a part of a payment that takes effect before the settlement it is for.
type early struct {
	in   *turn
	part Part
}

// earlies finds, by settlement, what was paid for it by payments that take effect before
// it because a correction says so of one of the two: a slip may belong to a day that was
// entered later than the bank paid for it.
func earlies(turns []turn) map[int64][]early {
	var list map[int64][]early
	come := map[int64]*turn{} // settlements still to come, in the order of the turns
	for i := len(turns) - 1; i >= 0; i-- {
		t := &turns[i]
		switch {
		case t.idle:
			continue
		case t.Kind == Settlement:
			come[t.Seq] = t
		}
		for _, p := range t.Parts {
			slip := come[p.Of]
			if p.As != Pays || slip == nil || !t.says(paysLater) && !(slip.elsewhere && slip.says(paysLater)) {
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

// reach takes what was paid early, and kept apart since, off the claim that it is for.
func (m *Machine) reach(paid []early) {
	for _, x := range paid {
		if x.in.done {
			m.keepLoose(&x.in.Entry, Part{As: Unknown, Value: x.part.Value.Neg()})
			m.settleClaim(&x.in.Entry, x.part)
		}
	}
}
