package demand_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/demand"
)

// Cachon and Terwiesch, Matching Supply with Demand, 3rd ed., problem 12.1 d and e, and the
// wetsuit example; sources in the file. Textbooks round z up to two decimals, hence the width.
func TestCriticalFractileNormal(t *testing.T) {
	for _, row := range checkValues(t, "newsvendor.csv") {
		if row["distribution"] != "normal" {
			continue
		}
		ratio := number(t, row["critical_ratio"])
		if row["cu"] != "" {
			got, err := demand.CriticalFractile(number(t, row["cu"]), number(t, row["co"]))
			if err != nil {
				t.Fatal(err)
			}
			near(t, row["id"]+" ratio", got, ratio, 0.00005)
			ratio = got
		}
		mean, sd := number(t, row["mean"]), number(t, row["sd"])
		load := mean + sd*demand.NormalQuantile(ratio)
		near(t, row["id"]+" exact load", load, number(t, row["exact_q"]), 0.001)
		near(t, row["id"]+" published load", load, number(t, row["published_q"]), 0.01*sd)
	}
}

// Hillier and Lieberman's newsboy: demand 15, 16, 17, 18 with probability 0.4, 0.2,
// 0.3, 0.1 and equal costs; the answer is 16.
func TestCriticalFractileDiscrete(t *testing.T) {
	ratio, err := demand.CriticalFractile(1, 1)
	if err != nil {
		t.Fatal(err)
	}
	days := []float64{15, 15, 15, 15, 16, 16, 17, 17, 17, 18}
	near(t, "load", demand.SampleQuantile(days, ratio), 16, 0)
}

func TestCriticalFractileErrCosts(t *testing.T) {
	for _, costs := range [][2]float64{{0, 0}, {-1, 2}, {2, -1}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, err := demand.CriticalFractile(costs[0], costs[1]); !errors.Is(err, demand.ErrCosts) {
			t.Errorf("costs %v: got %v, want ErrCosts", costs, err)
		}
	}
}

// Table of service levels; source in the file.
func TestNormalQuantile(t *testing.T) {
	for _, row := range checkValues(t, "normal_quantiles.csv") {
		p := number(t, row["p"])
		near(t, "z of "+row["p"], demand.NormalQuantile(p), number(t, row["z_6dp"]), 0.0000005)
		near(t, "z of the other side of "+row["p"], demand.NormalQuantile(1-p), -number(t, row["z_6dp"]), 0.0000005)
	}
}

func TestSampleQuantileStaysInside(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		count := rapid.IntRange(1, 40).Draw(t, "count")
		sorted := make([]float64, count)
		for i := range sorted {
			sorted[i] = rapid.Float64Range(0, 10).Draw(t, "step")
			if i > 0 {
				sorted[i] += sorted[i-1]
			}
		}
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		q := demand.SampleQuantile(sorted, p)
		if q < sorted[0] || q > sorted[count-1] {
			t.Fatalf("quantile %v of %v is outside", q, sorted)
		}
		if higher := demand.SampleQuantile(sorted, p+(1-p)/2); higher < q {
			t.Fatalf("quantile falls from %v to %v", q, higher)
		}
	})
	near(t, "quantile of nothing", demand.SampleQuantile(nil, 0.5), 0, 0)
}
