package diagnosis

import "slices"

// misentered lists slips in which a whole field went wrong and not one figure of it.
func (b *books) misentered() []suspect {
	all := append(b.boxForgotten(), b.otherDay()...)
	for _, f := range b.fields() {
		all = append(append(all, b.sumOnLine(f)...), b.allInBundles(f)...)
	}
	return all
}

// fields lists each field and lot that has figures, with those of its entries.
func (b *books) fields() [][]entry {
	var list [][]entry
	for _, e := range b.entries {
		if n := len(list); n > 0 && list[n-1][0].field == e.field && list[n-1][0].lot == e.lot {
			list[n-1] = append(list[n-1], e)
			continue
		}
		list = append(list, []entry{e})
	}
	return list
}

// boxForgotten: nothing is counted of one kind, notes should be there, and others were
// counted. A few missing notes are rather a box that ran empty.
func (b *books) boxForgotten() []suspect {
	const few = 5
	lines := b.variance.lines()
	if len(lines) != 1 || b.variance[lines[0]] >= 0 {
		return nil
	}
	missing, face, others := -b.variance[lines[0]], b.faces[lines[0]], int64(0)
	for _, n := range b.facts.Day.Remaining {
		others += n
	}
	if b.facts.Day.Remaining[face] != 0 || others == 0 {
		return nil
	}
	return []suspect{{
		slip:   Slip{ID: BoxForgotten, Face: face, Field: Remaining, Typed: figure(0), Likely: figure(missing)},
		effect: b.variance, strength: altered,
		bits: kindBits + choice(len(b.faces)) + 2*max(few-magnitude(missing), 0),
	}}
}

// otherDay: the printed figures are those of the period before, kind by kind. The
// difference may then be anything, but of one kind alone: then the others would have
// been paid out alike on both days.
func (b *books) otherDay() []suspect {
	if b.facts.Previous == nil || b.variance.touched() < min(2, len(b.faces)) {
		return nil
	}
	before, today := b.facts.Previous.Dispensed, b.facts.Day.Dispensed
	same := 0
	for _, face := range b.faces {
		if before[face] != today[face] {
			return nil
		}
		if today[face] > 0 {
			same++
		}
	}
	if same < min(2, len(b.faces)) {
		return nil
	}
	return []suspect{{slip: Slip{ID: OtherDay, Field: Dispensed}, effect: b.variance, bits: kindBits,
		strength: event}}
}

// sumOnLine: the sum of all kinds stands on the line of one, in notes or in money; the
// other lines are empty, or are right as well.
func (b *books) sumOnLine(field []entry) []suspect {
	var suspects []suspect
	for _, e := range field {
		likely := e.typed - e.sign*b.variance[e.line]
		if likely <= 0 || likely >= e.typed {
			continue
		}
		if b.sums(e, likely, field) {
			suspects = append(suspects, suspect{
				slip: Slip{ID: SumOnLine, Face: b.faces[e.line], Field: e.field, Lot: e.lot,
					Typed: figure(e.typed), Likely: figure(likely)},
				effect: b.variance, strength: altered, bits: kindBits + choice(len(b.entries)) + 1,
			})
		}
	}
	return suspects
}

// sums reports whether a figure is its likely one and those of all other lines together.
func (b *books) sums(e entry, likely int64, field []entry) bool {
	rest := b.variance.lines()
	if len(field) > 1 { // the other lines stand as they should
		notes, money := likely, likely*b.units[e.line]
		for _, o := range field {
			if o.line != e.line {
				notes += o.typed
				money += o.typed * b.units[o.line]
			}
		}
		const tenThousand = 10_000
		return len(rest) == 1 && (e.typed == notes || e.typed*tenThousand == money)
	}
	if len(rest) != len(b.faces) || len(rest) < 3 { // of two lines it is a figure on the wrong one
		return false
	}
	total := int64(0)
	for _, v := range b.variance {
		total += v
	}
	others := slices.DeleteFunc(slices.Clone(rest), func(line int) bool { return line == e.line })
	over := func(line int) bool { return e.sign*b.variance[line] >= 0 }
	return total == 0 && !slices.ContainsFunc(others, over)
}

// allInBundles: every figure of a field counts bundles and not notes.
func (b *books) allInBundles(field []entry) []suspect {
	first := field[0]
	e := make(effect, len(b.faces))
	for _, x := range field {
		e[x.line] = x.sign * (x.typed - x.typed*b.perBundle(x.line))
	}
	if len(field) < 2 || !e.equals(b.variance) {
		return nil
	}
	return []suspect{{
		slip: Slip{ID: TypedInBundles, Face: b.faces[first.line], Field: first.field, Lot: first.lot,
			Typed: figure(first.typed), Likely: figure(first.typed * b.perBundle(first.line))},
		effect: e, strength: altered, bits: kindBits + choice(len(b.entries)),
	}}
}

// keys is where the digits lie on a telephone's keys: row and column.
var keys = [10][2]int{{3, 1}, {0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {2, 0}, {2, 1}, {2, 2}}

// beside reports whether one digit of a figure is a key beside the one meant.
func beside(typed, meant int64) bool {
	if digits(typed) != digits(meant) {
		return false
	}
	wrong := 0
	for ; typed > 0; typed, meant = typed/10, meant/10 {
		a, c := keys[typed%10], keys[meant%10]
		switch apart := abs(a[0]-c[0]) + abs(a[1]-c[1]); {
		case apart == 1:
			wrong++
		case apart > 1:
			return false
		}
	}
	return wrong == 1
}

func abs(n int) int { return max(n, -n) }

// keyBeside finds a figure that a neighbouring key would put right: for one kind of
// note only, and one such figure. So many differences fit that it is a hint,
// and of the last digit it would be none: every loss of one or three notes fits.
func (b *books) keyBeside() []suspect {
	const lastDigit = 10
	lines := b.variance.lines()
	if len(lines) != 1 || abs(int(b.variance[lines[0]])) < lastDigit {
		return nil
	}
	for _, e := range slices.Backward(b.entries) { // counts first: they are typed in a hurry
		likely := e.typed - e.sign*b.variance[e.line]
		if e.line == lines[0] && likely > 0 && !b.impossible(e, likely) && beside(e.typed, likely) {
			return []suspect{{slip: Slip{ID: KeyBeside, Face: b.faces[e.line], Field: e.field, Lot: e.lot,
				Typed: figure(e.typed), Likely: figure(likely)}, effect: b.variance, strength: together}}
		}
	}
	return nil
}
