package diagnosis_test

import (
	"maps"
	"strconv"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// inject makes one slip of a kind in the record of a day. It is false where the day
// has no place for it. The slip it returns carries what a person would have to find.
type inject func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool)

func injections() map[diagnosis.ID]inject {
	return map[diagnosis.ID]inject{
		diagnosis.TopupTwice:          injectTopupTwice,
		diagnosis.TopupUnrecorded:     injectTopupUnrecorded,
		diagnosis.RejectsMissed:       injectRejectsMissed,
		diagnosis.RejectsCountedTwice: injectRejectsTwice,
		diagnosis.ReversalSign:        injectReversalSign,
		diagnosis.CarriedOver:         injectCarriedOver,
		diagnosis.LeftInOvernight:     injectLeftIn,
		diagnosis.NoteInTransport:     injectTransport,
		diagnosis.TestNotes:           injectTestNotes,
		diagnosis.LinesExchanged:      injectLinesExchanged,
		diagnosis.WrongLine:           injectWrongLine,
		diagnosis.ValueForQuantity:    injectValue,
		diagnosis.DigitsTransposed:    injectTransposed,
		diagnosis.DigitSlid:           injectSlid,
		diagnosis.CassettesExchanged:  injectCassettes,
		diagnosis.BundleMiscounted:    injectBundle,
		diagnosis.BoxForgotten:        injectForgotten,
		diagnosis.OtherDay:            injectOtherDay,
		diagnosis.SumOnLine:           injectSum,
		diagnosis.TypedInBundles:      injectInBundles,
	}
}

// addTo adds notes to a field's figures, refusing negative results.
func addTo(field, change notes, factor int64) bool {
	for face, count := range change {
		if field[face]+factor*count < 0 {
			return false
		}
	}
	for face, count := range change {
		field[face] += factor * count
	}
	return true
}

func injectTopupTwice(g generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	day := &facts.Day
	if len(day.Topups) == 0 {
		return diagnosis.Slip{}, false
	}
	day.Topups = append(day.Topups, maps.Clone(pick(g, day.Topups)))
	return diagnosis.Slip{ID: diagnosis.TopupTwice}, true
}

func injectTopupUnrecorded(_ generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	day := &facts.Day
	if len(day.Topups) == 0 {
		return diagnosis.Slip{}, false
	}
	facts.Declared = day.In()
	day.Topups = day.Topups[:len(day.Topups)-1]
	return diagnosis.Slip{ID: diagnosis.TopupUnrecorded}, true
}

func injectRejectsMissed(g generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	day := &facts.Day
	if g.one(2) {
		// Only what was cancelled lies in the box; the other notes are in the cassettes.
		if !addTo(day.Remaining, day.Rejects, 1) || !addTo(day.Remaining, day.Reversed, -1) {
			return diagnosis.Slip{}, false
		}
		facts.MachineRejected = nil
		clear(day.Rejects)
		return diagnosis.Slip{ID: diagnosis.RejectsMissed}, day.Reversed.Value().IsPositive()
	}
	facts.MachineRejected = maps.Clone(day.Rejects)
	clear(day.Rejects)
	return diagnosis.Slip{ID: diagnosis.RejectsMissed}, facts.MachineRejected.Value().IsPositive()
}

func injectRejectsTwice(_ generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	addTo(facts.Day.Remaining, facts.Day.Rejects, 1)
	return diagnosis.Slip{ID: diagnosis.RejectsCountedTwice}, facts.Day.Rejects.Value().IsPositive()
}

func injectReversalSign(g generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	day := &facts.Day
	ok := addTo(day.Dispensed, day.Reversed, pick(g, []int64{-1, -1, 1, 2, -2}))
	return diagnosis.Slip{ID: diagnosis.ReversalSign}, ok && day.Reversed.Value().IsPositive()
}

func injectCarriedOver(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	if facts.Previous == nil {
		return diagnosis.Slip{}, false
	}
	face, differed := pick(g, s.faces), g.between(1, 12)
	sign := pick(g, []int64{-1, 1})
	before, today := facts.Previous.Remaining, facts.Day.Remaining
	for _, line := range cashmath.Reconcile(*facts.Previous).Lines {
		before[line.Face] -= line.VarianceNotes
	}
	if before[face]+sign*differed < 0 || today[face]-sign*differed < 0 {
		return diagnosis.Slip{}, false
	}
	before[face] += sign * differed
	today[face] -= sign * differed
	return diagnosis.Slip{ID: diagnosis.CarriedOver, Face: face}, true
}

func injectLeftIn(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	if facts.Previous == nil {
		return diagnosis.Slip{}, false
	}
	left := facts.Previous.Remaining
	if g.one(2) {
		face := pick(g, s.faces)
		left = notes{face: left[face]}
	}
	addTo(facts.Day.Remaining, left, 1)
	return diagnosis.Slip{ID: diagnosis.LeftInOvernight}, left.Value().IsPositive()
}

func injectTransport(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	facts.Jams, facts.LargestDispense = g.between(1, 2), pick(g, []int64{20, 40})
	facts.Day.Found = nil
	stuck := notes{pick(g, s.faces): g.between(1, facts.LargestDispense)}
	return diagnosis.Slip{ID: diagnosis.NoteInTransport}, addTo(facts.Day.Remaining, stuck, -1)
}

func injectTestNotes(_ generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	day := &facts.Day
	ok := len(day.Test) > 0 && addTo(day.Remaining, day.Test, -1)
	return diagnosis.Slip{ID: diagnosis.TestNotes}, ok
}

// place is a field of the record and one lot in it.
type place struct {
	field diagnosis.Field
	lot   notes
}

func places(day *cashmath.Day) []place {
	all := []place{
		{diagnosis.Loaded, day.Loaded}, {diagnosis.Dispensed, day.Dispensed}, {diagnosis.Reversed, day.Reversed},
		{diagnosis.Remaining, day.Remaining}, {diagnosis.Rejects, day.Rejects},
	}
	for _, lot := range day.Topups {
		all = append(all, place{diagnosis.Topups, lot})
	}
	for _, lot := range day.Removed {
		all = append(all, place{diagnosis.Removed, lot})
	}
	return all
}

// somewhere picks a figure above nothing in any field.
func (g generator) somewhere(s shop, facts *diagnosis.Facts) (place, cashmath.Face, bool) {
	at, face := pick(g, places(&facts.Day)), pick(g, s.faces)
	return at, face, at.lot[face] > 0
}

func injectLinesExchanged(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, a, ok := g.somewhere(s, facts)
	b := pick(g, s.faces)
	if !ok || a == b || at.lot[b] == 0 || at.lot[a] == at.lot[b] {
		return diagnosis.Slip{}, false
	}
	at.lot[a], at.lot[b] = at.lot[b], at.lot[a]
	return diagnosis.Slip{ID: diagnosis.LinesExchanged, Face: a, OtherFace: b, Field: at.field}, true
}

func injectWrongLine(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, right, ok := g.somewhere(s, facts)
	wrong := pick(g, s.faces)
	if !ok || right == wrong {
		return diagnosis.Slip{}, false
	}
	at.lot[wrong] += at.lot[right]
	delete(at.lot, right)
	return diagnosis.Slip{ID: diagnosis.WrongLine, Face: wrong, OtherFace: right, Field: at.field}, true
}

func altered(id diagnosis.ID, at place, face cashmath.Face, written int64) (diagnosis.Slip, bool) {
	slip := diagnosis.Slip{ID: id, Face: face, Field: at.field}
	right := at.lot[face]
	at.lot[face] = written
	return slip, written != right && written > 0 && written <= cashmath.MaxNotes
}

func injectValue(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, face, ok := g.somewhere(s, facts)
	if !ok {
		return diagnosis.Slip{}, false
	}
	return altered(diagnosis.ValueForQuantity, at, face, cashmath.Value(face, at.lot[face]).IntPart())
}

func injectTransposed(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, face, ok := g.somewhere(s, facts)
	if !ok || at.lot[face] < 10 {
		return diagnosis.Slip{}, false
	}
	text := []byte(strconv.FormatInt(at.lot[face], 10))
	i := g.IntN(len(text) - 1)
	text[i], text[i+1] = text[i+1], text[i]
	written, err := strconv.ParseInt(string(text), 10, 64)
	if err != nil || text[0] == '0' {
		return diagnosis.Slip{}, false
	}
	return altered(diagnosis.DigitsTransposed, at, face, written)
}

func injectSlid(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, face, ok := g.somewhere(s, facts)
	if !ok {
		return diagnosis.Slip{}, false
	}
	text := strconv.FormatInt(at.lot[face], 10)
	i := g.IntN(len(text))
	switch g.IntN(4) {
	case 0:
		text += "0"
	case 1:
		if len(text) < 2 || text[len(text)-1] != '0' {
			return diagnosis.Slip{}, false
		}
		text = text[:len(text)-1]
	case 2:
		text = text[:i+1] + text[i:]
	default:
		text = text[:i] + text[i+1:]
	}
	written, err := strconv.ParseInt("0"+text, 10, 64)
	if err != nil {
		return diagnosis.Slip{}, false
	}
	return altered(diagnosis.DigitSlid, at, face, written)
}

func injectCassettes(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	a, b := pick(g, s.faces), pick(g, s.faces)
	difference := facts.Day.Dispensed[a] - facts.Day.Dispensed[b]
	ok := difference != 0 && addTo(facts.Day.Remaining, notes{a: difference, b: -difference}, 1)
	return diagnosis.Slip{ID: diagnosis.CassettesExchanged, Face: a, OtherFace: b}, ok
}

func injectBundle(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	face := pick(g, s.faces)
	facts.Bundle = maps.Clone(s.bundle)
	missed := notes{face: s.bundle[face] * pick(g, []int64{-3, -2, -1, -1, 1, 1, 2, 3})}
	return diagnosis.Slip{ID: diagnosis.BundleMiscounted, Face: face}, addTo(facts.Day.Remaining, missed, 1)
}
