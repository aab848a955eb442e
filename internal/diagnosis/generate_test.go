package diagnosis_test

import (
	"maps"
	"math/rand/v2"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

type notes = cashmath.Notes

// generator invents days of small shops from a seed. Amounts, habits and gaps in the
// record are drawn anew for each day, so that no two shops look alike.
type generator struct{ *rand.Rand }

func newGenerator(seed uint64) generator { return generator{rand.New(rand.NewPCG(seed, 2))} }

// one draws true once in n.
func (g generator) one(n int) bool { return g.IntN(n) == 0 }

func (g generator) between(low, high int64) int64 { return low + g.Int64N(high-low+1) }

func pick[T any](g generator, from []T) T { return from[g.IntN(len(from))] }

// shop is what stays the same through a shop's day.
type shop struct {
	faces  []cashmath.Face // two to four kinds of note
	step   int64           // loads come in multiples of this
	bundle notes
}

func (g generator) shop() shop {
	all := []cashmath.Face{"100", "50", "20", "10", "5"}
	start := g.IntN(3)
	s := shop{
		faces:  all[start:min(start+2+g.IntN(3), 5)],
		step:   pick(g, []int64{1, 1, 5, 10, 50}),
		bundle: notes{},
	}
	for _, face := range s.faces {
		s.bundle[face] = pick(g, []int64{50, 100, 100})
	}
	return s
}

// load is a count of notes such as this shop loads.
func (g generator) load(s shop, low, high int64) int64 {
	return max(g.between(low, high)/s.step, 1) * s.step
}

// balanced invents a day without a slip, with what else may be on record.
func (g generator) balanced(s shop) diagnosis.Facts {
	day := emptyDay()
	for _, face := range s.faces {
		day.Loaded[face] = g.load(s, 20, 600)
	}
	for range pick(g, []int{0, 0, 1, 1, 2, 3}) {
		day.Topups = append(day.Topups, g.topup(s))
	}
	if g.one(6) {
		face := pick(g, s.faces)
		day.Removed = []notes{{face: g.between(1, day.Loaded[face]/2+1)}}
	}
	if g.one(5) {
		day.Test = notes{}
		for _, face := range s.faces {
			day.Test[face] = g.between(1, 2)
		}
	}
	g.trade(s, &day)
	facts := diagnosis.Facts{Currency: "EUR", Day: day}
	g.surroundings(s, &facts)
	return facts
}

func emptyDay() cashmath.Day {
	return cashmath.Day{
		Loaded: notes{}, Dispensed: notes{}, Reversed: notes{}, Remaining: notes{}, Rejects: notes{},
	}
}

func (g generator) topup(s shop) notes {
	if g.one(2) {
		return notes{pick(g, s.faces): g.load(s, 10, 250)}
	}
	topup := notes{}
	for _, face := range s.faces {
		if g.one(2) {
			topup[face] = g.load(s, 10, 250)
		}
	}
	if len(topup) == 0 {
		topup[s.faces[0]] = g.load(s, 10, 250)
	}
	return topup
}

// trade pays notes out, cancels a few, refuses a few, and counts the rest.
func (g generator) trade(s shop, day *cashmath.Day) {
	in, removed := day.In(), cashmath.Sum(day.Removed...)
	for _, face := range s.faces {
		available := in[face] - removed[face]
		day.Dispensed[face] = max(available*g.between(10, 92)/100, day.Test[face])
		if g.one(3) {
			day.Reversed[face] = min(g.between(1, 8), day.Dispensed[face]-day.Test[face])
		}
		left := available - day.Dispensed[face] + day.Reversed[face] + day.Test[face]
		if !g.one(3) {
			day.Rejects[face] = min(g.between(0, 7), left)
		}
		if g.one(40) && day.Found == nil {
			day.Found = notes{face: min(g.between(1, 3), left-day.Rejects[face])}
		}
		day.Remaining[face] = left - day.Rejects[face] - day.Found[face]
	}
}

// surroundings adds what a shop may or may not know beside the day's own figures.
func (g generator) surroundings(s shop, facts *diagnosis.Facts) {
	if g.one(2) {
		facts.Bundle = maps.Clone(s.bundle)
	}
	if g.one(2) {
		facts.Capacity = notes{}
		for _, face := range s.faces {
			facts.Capacity[face] = pick(g, []int64{1500, 2000, 2500})
		}
	}
	if g.one(3) {
		facts.Declared = facts.Day.In()
	}
	if g.one(3) {
		facts.MachineRejected = maps.Clone(facts.Day.Rejects)
	}
	if g.one(40) {
		facts.Jams = 1
	}
	facts.LargestDispense = pick(g, []int64{0, 20, 40, 40})
	if g.one(2) {
		previous := emptyDay()
		for _, face := range s.faces {
			previous.Loaded[face] = g.load(s, 20, 600)
		}
		g.trade(s, &previous)
		if g.one(4) {
			previous.Remaining[pick(g, s.faces)] += g.between(1, 6)
		}
		facts.Previous = &previous
	}
}
