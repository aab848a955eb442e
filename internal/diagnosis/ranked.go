package diagnosis

import (
	"cmp"
	"slices"
)

// causesMax bounds the list: more than that is no help to anybody.
const causesMax = 8

// equalBits is how close two explanations must be to share a rank.
const equalBits = 3

// ranked sorts explanations by strength and then by how little they assume.
func (b *books) ranked(found []explanation) []Cause {
	slices.SortStableFunc(found, func(x, y explanation) int {
		return cmp.Or(cmp.Compare(x.strength, y.strength), cmp.Compare(x.bits, y.bits))
	})
	var causes []Cause
	var told []explanation
	var best explanation
	rank := 0
	for _, x := range found {
		if slices.ContainsFunc(told, x.sameAs) {
			continue
		}
		if rank == 0 || x.strength != best.strength || x.bits > best.bits+equalBits {
			best, rank = x, rank+1
		}
		told = append(told, x)
		causes = append(causes, b.cause(rank, x))
		if len(causes) == causesMax {
			break
		}
	}
	beside := b.keyBeside()
	unexplained := b.cause(1, alone(suspect{slip: Slip{ID: Unexplained}}))
	switch {
	case len(told) == 0:
		causes, rank = append(causes, unexplained), 1
	case b.doubtful(told[0], len(beside) > 0) && (len(causes) == 1 || causes[1].Rank > 1):
		at := 1
		if b.lossBits() <= told[0].bits && slices.Max(b.variance) <= 0 { // nobody loses what is too many
			at = 0
		}
		causes = slices.Insert(causes, at, unexplained)
	}
	if len(told) == 0 || told[0].strength > altered {
		for _, s := range beside {
			causes = append(causes, b.cause(rank+1, alone(s)))
		}
	}
	return causes
}

// doubtBits is how much more believable than a plain loss a slip must be to be the one
// thing to look at. Below it, that nothing explains the difference is as good, and it
// stands first if a plain loss is the more believable.
const doubtBits = 5

// doubtful reports whether the best explanation is no better than none: hardly more
// believable than a loss, or a mere shape where a wrong key would do as well.
func (b *books) doubtful(best explanation, beside bool) bool {
	if len(best.suspects) > 1 || best.suspects[0].slip.ID == NoteInTransport {
		return false
	}
	return b.lossBits()-best.bits < doubtBits || best.strength == shape && beside || b.notLoaded(best)
}

// notLoaded reports whether notes are too many of a kind of which no load is on record: then
// the load was not written down, whatever else has the shape of it.
func (b *books) notLoaded(best explanation) bool {
	lines := b.variance.lines()
	return best.strength > event && len(lines) == 1 && b.variance[lines[0]] > 0 &&
		b.facts.Day.Loaded[b.faces[lines[0]]] == 0
}

// sameAs reports whether two explanations say the same: the same figures of the same
// lines, whichever of two equal entries they stand in and whichever slip comes first.
func (x explanation) sameAs(other explanation) bool {
	if len(x.suspects) != len(other.suspects) {
		return false
	}
	for _, s := range x.suspects {
		if !slices.ContainsFunc(other.suspects, s.sameAs) {
			return false
		}
	}
	return true
}

func (s suspect) sameAs(other suspect) bool {
	a, b := s.slip, other.slip
	return a.ID == b.ID && a.Field == b.Field && a.Face == b.Face && a.OtherFace == b.OtherFace &&
		sameFigure(a.Typed, b.Typed) && sameFigure(a.Likely, b.Likely)
}

func sameFigure(a, b *int64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}

func (b *books) cause(rank int, x explanation) Cause {
	cause := Cause{Rank: rank}
	for _, s := range x.suspects {
		s.slip.Check = b.check(s.slip)
		cause.Slips = append(cause.Slips, s.slip)
	}
	return cause
}
