package diagnosis

import "slices"

// misplacements lists the ways in which figures of the given lines stand on each
// other's line, whatever the variance is: exchanged, or one of them moved whole.
func (b *books) misplacements(lines []int) []suspect {
	var at []int
	for i, e := range b.entries {
		if slices.Contains(lines, e.line) {
			at = append(at, i)
		}
	}
	if len(at) > searchMax {
		return nil
	}
	var suspects []suspect
	for n, i := range at {
		e := b.entries[i]
		for _, j := range at[:n] {
			if other := b.entries[j]; other.field == e.field && other.line != e.line && other.typed != e.typed {
				suspects = append(suspects, b.exchanged(j, i))
			}
		}
		for _, line := range lines {
			if line != e.line {
				suspects = append(suspects, b.moved(i, line))
			}
		}
	}
	return suspects
}

func (b *books) exchanged(i, j int) suspect {
	e, other := b.entries[i], b.entries[j]
	effect := make(effect, len(b.faces))
	effect[e.line] = e.sign * (e.typed - other.typed)
	effect[other.line] = -effect[e.line]
	bits := kindBits + choice(len(b.entries))
	if e.lot != other.lot {
		bits++
	}
	return suspect{
		slip: Slip{
			ID: LinesExchanged, Face: b.faces[e.line], OtherFace: b.faces[other.line],
			Field: e.field, Lot: e.lot, Typed: figure(e.typed), Likely: figure(other.typed),
		},
		effect: effect, strength: altered, bits: bits, at: []int{i, j},
	}
}

// moved: a whole figure belongs to another line.
func (b *books) moved(i, line int) suspect {
	e := b.entries[i]
	effect := make(effect, len(b.faces))
	effect[e.line], effect[line] = e.sign*e.typed, -e.sign*e.typed
	bits := kindBits + choice(len(b.entries)*(len(b.faces)-1))
	if b.occupied(e, line) {
		bits += 2 // there, two figures would have to be one
	}
	return suspect{
		slip: Slip{
			ID: WrongLine, Face: b.faces[e.line], OtherFace: b.faces[line],
			Field: e.field, Lot: e.lot, Typed: figure(e.typed), Likely: figure(0),
		},
		effect: effect, strength: altered, bits: bits, at: []int{i},
	}
}

// merged lists the fields in which the figure of one line was added to another's and
// is missing where it belongs. Only the variance tells how much of the sum it is.
func (b *books) merged(rest effect) []suspect {
	var suspects []suspect
	for _, e := range b.entries {
		belongs := rest[e.line] * e.sign
		if belongs <= 0 || belongs >= e.typed {
			continue
		}
		for _, line := range rest.lines() {
			if rest[line] != -rest[e.line] || b.occupied(e, line) {
				continue
			}
			suspects = append(suspects, suspect{
				slip: Slip{
					ID: WrongLine, Face: b.faces[e.line], OtherFace: b.faces[line],
					Field: e.field, Lot: e.lot, Typed: figure(e.typed), Likely: figure(e.typed - belongs),
				},
				effect: rest, strength: altered, bits: kindBits + choice(len(b.entries)*len(b.faces)) + 4,
			})
		}
	}
	return suspects
}

// occupied reports whether the line has a figure of its own beside e.
func (b *books) occupied(e entry, line int) bool {
	for _, other := range b.entries {
		if other.field == e.field && other.lot == e.lot && other.line == line {
			return true
		}
	}
	return false
}
