package demand

import (
	"errors"
	"math"
	"slices"
)

// ErrCosts says that a critical fractile needs two costs of zero or more, not both zero.
var ErrCosts = errors.New("costs must be zero or more and not both zero")

// CriticalFractile is the share of days on which the load should be enough:
// under is the loss per note that customers asked for in vain, over the cost per note
// left idle, both in the same money. This is the newsvendor rule F(Q) = Cu / (Cu + Co);
// worked examples with sources stand in testdata/demand/newsvendor.csv.
func CriticalFractile(under, over float64) (float64, error) {
	if !(under >= 0) || !(over >= 0) || under+over == 0 || math.IsInf(under+over, 1) {
		return 0, ErrCosts
	}
	return under / (under + over), nil
}

// NormalQuantile is the standard normal's quantile of p within 0 to 1.
func NormalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// SampleQuantile is the p quantile of values in rising order, p within 0 to 1:
// each value stands for its equal share of probability, with straight lines
// between the middles of the shares. It returns 0 of nothing.
func SampleQuantile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return 0
	}
	at := p*float64(len(sorted)) - 0.5
	at = min(max(at, 0), float64(len(sorted)-1))
	i := int(at)
	if i == len(sorted)-1 {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// median sorts v and returns its middle, or 0 of nothing.
func median(v []float64) float64 {
	slices.Sort(v)
	return SampleQuantile(v, 0.5)
}
