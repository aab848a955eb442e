package demand_test

import (
	"testing"

	"shopfloat/internal/demand"
)

// One shop's advice from two years of history: the target is 5 ms.
func BenchmarkAdvise(b *testing.B) {
	s := cornerShop(735)
	s.noise = 0.3
	history := s.history()
	calendar := england(b, s.first, s.first+800)
	options := demand.Options{Calendar: calendar, Priors: demand.Shipped()}
	for b.Loop() {
		if _, err := demand.Advise(history, history.Next(), options); err != nil {
			b.Fatal(err)
		}
	}
}

// 111 series of 735 days, 56 days ahead with four quantiles: the target is 5 s on one core.
func BenchmarkManySeries(b *testing.B) {
	s := cornerShop(735)
	s.noise = 0.3
	history := s.history()
	options := demand.Options{Calendar: england(b, s.first, s.first+800), Priors: demand.Shipped()}
	for b.Loop() {
		for range 111 {
			m := mustFit(b, history, options)
			for ahead := 1; ahead <= demand.AheadMax; ahead++ {
				f := mustAhead(b, m, ahead)
				for _, p := range levels {
					mustQuantile(b, f, p)
				}
			}
		}
	}
}
