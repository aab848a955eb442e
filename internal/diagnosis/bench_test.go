package diagnosis_test

import (
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// BenchmarkExplain draws on days of all sorts with two slips each: the dearest case,
// because no single slip fits most of them.
func BenchmarkExplain(b *testing.B) {
	g := newGenerator(7)
	var days []diagnosis.Facts
	for len(days) < 500 {
		one, other := g.twoKinds()
		if facts, truth := g.withSlips(one, other); len(truth) == 2 {
			days = append(days, facts)
		}
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		diagnosis.Explain(days[i%len(days)])
	}
}

// BenchmarkExplainFullDay is one day of four denominations with every field in use
// and nothing that explains it. The goal is half a millisecond.
func BenchmarkExplainFullDay(b *testing.B) {
	lot := func(a, b, c, d int64) notes { return notes{"100": a, "50": b, "20": c, "10": d} }
	day := cashmath.Day{
		Loaded: lot(180, 240, 510, 420), Topups: []notes{lot(20, 35, 60, 45), lot(15, 25, 50, 30)},
		Removed: []notes{lot(5, 6, 7, 8)}, Dispensed: lot(121, 163, 377, 302), Reversed: lot(2, 4, 3, 5),
		Remaining: lot(512, 301, 455, 98), Rejects: lot(3, 2, 4, 5), Found: lot(1, 0, 0, 1), Test: lot(1, 1, 1, 1),
	}
	facts := diagnosis.Facts{
		Currency: "EUR", Day: day, Previous: &day, Declared: day.In(), MachineRejected: lot(3, 2, 4, 6),
		Capacity: lot(2000, 2000, 2500, 2500), Bundle: lot(100, 100, 100, 100), Jams: 2, LargestDispense: 40,
	}
	b.ReportAllocs()
	for b.Loop() {
		diagnosis.Explain(facts)
	}
}
