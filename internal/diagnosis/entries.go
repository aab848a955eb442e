package diagnosis

import (
	"slices"

	"shopfloat/internal/cashmath"
)

// misreadings lists every figure on a line that, read another way, settles its rest.
func (b *books) misreadings(line int, rest int64) []suspect {
	var suspects []suspect
	for _, e := range b.entries {
		if e.line != line {
			continue
		}
		likely := e.typed - e.sign*rest
		if likely < 0 || b.impossible(e, likely) {
			continue
		}
		for _, r := range b.readings(e, likely) {
			suspects = append(suspects, b.misread(e, likely, r))
		}
	}
	return suspects
}

// reading is a way to get from a figure to what stands in the record.
type reading struct {
	id   ID
	bits int  // how many ways of this kind there are to get the figure wrong
	free bool // one digit is lost, so ten figures would do
}

func (b *books) readings(e entry, likely int64) []reading {
	var found []reading
	const tenThousand = 10_000
	if e.typed*tenThousand == likely*b.units[e.line] {
		found = append(found, reading{id: ValueForQuantity})
	}
	if per := b.perBundle(e.line); per > 1 && e.typed*per == likely {
		found = append(found, reading{id: TypedInBundles})
	}
	places := digits(max(e.typed, likely))
	if cashmath.Transposition(e.typed, likely) == 1 {
		found = append(found, reading{id: DigitsTransposed, bits: choice(places - 1)})
	}
	switch cashmath.Slide(e.typed, likely) {
	case cashmath.ZeroLost, cashmath.ZeroAdded:
		found = append(found, reading{id: DigitSlid, bits: 2})
	case cashmath.DigitDoubled:
		found = append(found, reading{id: DigitSlid, bits: 2 + choice(places)})
	case cashmath.DigitDropped:
		found = append(found, reading{id: DigitSlid, bits: 2 + choice(places), free: true})
	}
	return found
}

func digits(n int64) int {
	count := 1
	for ; n >= 10; n /= 10 {
		count++
	}
	return count
}

func (b *books) misread(e entry, likely int64, r reading) suspect {
	effect := make(effect, len(b.faces))
	effect[e.line] = e.sign * (e.typed - likely)
	s := suspect{
		slip: Slip{
			ID: r.id, Face: b.faces[e.line], Field: e.field, Lot: e.lot,
			Typed: figure(e.typed), Likely: figure(likely),
		},
		effect:   effect,
		strength: altered,
		free:     r.free,
		bits:     kindBits + choice(len(b.entries)) + r.bits + b.oddness(e, likely) - b.oddness(e, e.typed),
	}
	record, known := b.secondRecord(e)
	switch {
	case known && record == likely:
		s.strength = event // the figure is on record elsewhere, and fits
	case r.id == DigitSlid && b.wholeBundles(e.line, effect[e.line]):
		s.strength = shape // 37 for 137 cannot be told from a bundle of 100
	}
	if known && record != likely {
		s.bits += 3
	}
	return s
}

// secondRecord is what another record says the figure should be.
func (b *books) secondRecord(e entry) (count int64, known bool) {
	face := b.faces[e.line]
	switch e.field {
	case Loaded, Topups:
		declared, known := b.facts.Declared[face]
		return declared - b.in[face] + e.typed, known
	case Rejects:
		rejected, known := b.facts.MachineRejected[face]
		return rejected, known
	}
	return 0, false
}

// impossible reports whether a figure cannot be right: more than fits into the machine,
// or more cancelled than was paid out.
func (b *books) impossible(e entry, likely int64) bool {
	face := b.faces[e.line]
	if e.field == Reversed {
		return likely > b.facts.Day.Dispensed[face]
	}
	room, known := b.facts.Capacity[face]
	inMachine := e.field == Loaded || e.field == Remaining || e.field == Topups
	return known && inMachine && likely > room
}

// rereadings lists the other ways to read each figure on a line that differs, as far
// as the figure itself tells: money or bundles for notes, digits exchanged, one too many,
// a nought too few. They matter where a second slip hides the rest.
func (b *books) rereadings() []suspect {
	var suspects []suspect
	for _, e := range b.entries {
		if b.variance[e.line] == 0 {
			continue
		}
		for _, likely := range b.likelyFigures(e) {
			if b.impossible(e, likely) {
				continue
			}
			for _, r := range b.readings(e, likely) {
				suspects = append(suspects, b.misread(e, likely, r))
			}
		}
	}
	return suspects
}

func (b *books) likelyFigures(e entry) []int64 {
	const tenThousand = 10_000
	likely := []int64{e.typed * 10, e.typed * b.perBundle(e.line)}
	if amount := e.typed * tenThousand; amount%b.units[e.line] == 0 {
		likely = append(likely, amount/b.units[e.line])
	}
	for place := int64(1); place*10 <= e.typed; place *= 10 {
		right, left := e.typed/place%10, e.typed/(place*10)%10
		likely = append(likely, e.typed+9*place*(right-left), e.typed/(place*10)*place+e.typed%place)
	}
	slices.Sort(likely)
	return slices.DeleteFunc(slices.Compact(likely), func(n int64) bool { return n == e.typed })
}

// oddness prices a figure by how unusual it is where it stands, in bits: refused and
// cancelled notes are few, loads are round where the shop's others are, and no
// cassette holds much over a thousand notes by habit.
func (b *books) oddness(e entry, count int64) int {
	const fewBits, loadBits = 3, 10
	switch e.field {
	case Rejects, Reversed:
		return 3 * max(magnitude(count)-fewBits, 0)
	case Loaded, Topups:
		odd := 2 * max(magnitude(count)-loadBits, 0)
		if b.tidy && count%10 != 0 {
			odd += 3
		}
		if b.impossible(e, count) {
			odd += 3
		}
		return odd
	case Remaining:
		if b.impossible(e, count) {
			return 3
		}
	}
	return 0
}
