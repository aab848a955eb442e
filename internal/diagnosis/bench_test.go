package diagnosis_test

import (
	"testing"

	"shopfloat/internal/diagnosis"
)

// days invents many days of all sorts, as a shop chain would hand them in.
func days(count int) []diagnosis.Facts {
	g := newGenerator(7)
	all := kinds()
	var days []diagnosis.Facts
	for len(days) < count {
		facts, truth := g.withSlips(pick(g, all), pick(g, all))
		if len(truth) > 0 {
			days = append(days, facts)
		}
	}
	return days
}

// BenchmarkExplainTwoSlips is the dearest case: no single slip fits.
func BenchmarkExplainTwoSlips(b *testing.B) {
	days := days(500)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		diagnosis.Explain(days[i%len(days)])
	}
}
