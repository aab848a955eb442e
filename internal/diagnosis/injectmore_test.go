package diagnosis_test

import (
	"maps"
	"strconv"

	"shopfloat/internal/diagnosis"
)

func injectForgotten(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	face := pick(g, s.faces)
	there := facts.Day.Remaining[face]
	facts.Day.Remaining[face] = 0
	return diagnosis.Slip{ID: diagnosis.BoxForgotten, Face: face}, there > 0
}

func injectOtherDay(_ generator, _ shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	if facts.Previous == nil {
		return diagnosis.Slip{}, false
	}
	facts.Day.Dispensed = maps.Clone(facts.Previous.Dispensed)
	return diagnosis.Slip{ID: diagnosis.OtherDay}, true
}

func injectSum(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, face, ok := g.somewhere(s, facts)
	sum, figures := int64(0), 0
	for _, n := range at.lot {
		sum += n
		if n > 0 {
			figures++
		}
	}
	if !ok || figures < 2 {
		return diagnosis.Slip{}, false
	}
	switch {
	case g.one(3):
		sum = at.lot.Value().IntPart()
	case g.one(2) && figures > 2 && figures == len(s.faces):
		clear(at.lot)
	}
	slip := diagnosis.Slip{ID: diagnosis.SumOnLine, Face: face, Field: at.field}
	at.lot[face] = sum
	return slip, true
}

func injectInBundles(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
	at, face, ok := g.somewhere(s, facts)
	per := s.bundle[face]
	if !ok || at.lot[face]%per != 0 {
		return diagnosis.Slip{}, false
	}
	facts.Bundle = maps.Clone(s.bundle)
	slip := diagnosis.Slip{ID: diagnosis.TypedInBundles, Face: face, Field: at.field}
	at.lot[face] /= per
	return slip, true
}

// unnamed are slips that have no name of their own, or only a hint.
func unnamed() map[string]inject {
	return map[string]inject{
		"key-beside": func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
			return respelt(g, s, facts, func(text []byte) {
				i := g.IntN(len(text))
				text[i] = pick(g, []byte(map[byte]string{'0': "8", '1': "24", '2': "135", '3': "26", '4': "157",
					'5': "2468", '6': "359", '7': "48", '8': "5790", '9': "68"}[text[i]]))
			})
		},
		"one digit": func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
			return respelt(g, s, facts, func(text []byte) { text[g.IntN(len(text))] = byte('0' + g.IntN(10)) })
		},
		"ends swapped": func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
			return respelt(g, s, facts, func(text []byte) {
				if n := len(text); n > 2 {
					text[0], text[n-1] = text[n-1], text[0]
				}
			})
		},
		"from memory": func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
			at, face, ok := g.somewhere(s, facts)
			if !ok {
				return diagnosis.Slip{}, false
			}
			return altered("from memory", at, face, max(at.lot[face]+g.between(-15, 15), 1))
		},
		"load not written": func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
			facts.Declared = nil
			delete(facts.Day.Loaded, pick(g, s.faces))
			return diagnosis.Slip{}, true
		},
		"taken out, not written": func(g generator, s shop, facts *diagnosis.Facts) (diagnosis.Slip, bool) {
			taken := notes{pick(g, s.faces): g.between(1, 120)}
			return diagnosis.Slip{}, addTo(facts.Day.Remaining, taken, -1)
		},
	}
}

func respelt(g generator, s shop, facts *diagnosis.Facts, change func([]byte)) (diagnosis.Slip, bool) {
	at, face, ok := g.somewhere(s, facts)
	if !ok {
		return diagnosis.Slip{}, false
	}
	text := []byte(strconv.FormatInt(at.lot[face], 10))
	change(text)
	written, err := strconv.ParseInt(string(text), 10, 64)
	if err != nil || text[0] == '0' {
		return diagnosis.Slip{}, false
	}
	return altered("respelt", at, face, written)
}
