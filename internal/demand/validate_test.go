package demand_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shopfloat/internal/demand"
	"shopfloat/internal/wide"
)

// levels are the shares at which quantiles are scored.
var levels = [...]float64{0.5, 0.9, 0.95, 0.98}

// window is how many days after an origin are scored.
const window = 56

// answer is one day's forecast.
type answer struct {
	mean      float64
	quantiles [len(levels)]float64
}

// forecaster answers for a series of which the first known days may be used.
type forecaster interface {
	forecast(known, ahead int) answer
}

// score gathers errors. Everything is in percent but mase.
type score struct {
	days                float64
	smape, mase         float64
	pinball, out        [len(levels)]float64
	meanDemand, naiveMA float64 // of the window; of the days before it
}

// add takes one day. Pinball and mase are in units of the window's mean demand and of the
// weekly naive error of the days before it.
func (s *score) add(actual float64, a answer) {
	s.days++
	if actual+a.mean > 0 {
		s.smape += 200 * math.Abs(actual-a.mean) / (actual + a.mean)
	}
	s.mase += math.Abs(actual-a.mean) / s.naiveMA
	for i, p := range levels {
		short := actual - a.quantiles[i]
		if short > 0 {
			s.out[i] += 100
		}
		s.pinball[i] += 100 * max(p*short, (p-1)*short) / s.meanDemand
	}
}

// mean of scores of several series and windows, each counting alike.
func mean(all []score) score {
	var m score
	n := float64(len(all))
	for _, s := range all {
		m.smape += s.smape / s.days / n
		m.mase += s.mase / s.days / n
		for i := range levels {
			m.pinball[i] += s.pinball[i] / s.days / n
			m.out[i] += s.out[i] / s.days / n
		}
	}
	return m
}

// scale prepares a score for the window after origin.
func scale(values []float64, origin int) score {
	var s score
	naive, count, days := 0.0, 0.0, 0.0
	for i := 7; i < origin; i++ {
		if d := math.Abs(values[i] - values[i-7]); !math.IsNaN(d) {
			naive += d
			count++
		}
	}
	for _, v := range values[origin : origin+window] {
		if !math.IsNaN(v) {
			s.meanDemand += v
			days++
		}
	}
	s.meanDemand /= days
	s.naiveMA = naive / count
	return s
}

// run scores a forecaster after one origin: all days from that evening, and
// each day from the evening before.
func run(f forecaster, values []float64, origin int) (far, near score) {
	far, near = scale(values, origin), scale(values, origin)
	for k, actual := range values[origin : origin+window] {
		if !math.IsNaN(actual) {
			far.add(actual, f.forecast(origin, k+1))
			near.add(actual, f.forecast(origin+k, 1))
		}
	}
	return far, near
}

// advised is the package itself. days limits the history it may see; 0 is all of it.
type advised struct {
	history demand.History
	options demand.Options
	days    int
	model   *demand.Model // of the last evening asked for
	known   int
}

func (a *advised) forecast(known, ahead int) answer {
	if a.model == nil || a.known != known {
		h := a.history
		h.Days = h.Days[:known]
		if cut := known - a.days; a.days > 0 && cut > 0 {
			h.First, h.Days = h.First+demand.Day(cut), h.Days[cut:]
		}
		model, err := demand.Fit(h, a.options)
		if err != nil {
			return answer{}
		}
		a.model, a.known = model, known
	}
	f, err := a.model.Ahead(ahead)
	if err != nil {
		panic(err)
	}
	out := answer{mean: f.Mean}
	for i, p := range levels {
		if out.quantiles[i], err = f.Quantile(p); err != nil {
			panic(err)
		}
	}
	return out
}

// method makes a forecaster for one series after one origin.
type method struct {
	name string
	make func(series, origin int) forecaster
}

// result is a method's mean scores, all days from the origin and day by day.
type result struct{ far, near score }

// compare logs one row a method and returns the results in the same order.
func compare(t *testing.T, table wide.Table, origins []int, methods []method) []result {
	t.Helper()
	var results []result
	var out strings.Builder
	fmt.Fprintf(&out, "origins %v\n", origins)
	for _, m := range methods {
		var far, near []score
		for _, origin := range origins {
			for i, series := range table.Series {
				f, n := run(m.make(i, origin), series.Values, origin)
				far, near = append(far, f), append(near, n)
			}
		}
		f, n := mean(far), mean(near)
		results = append(results, result{f, n})
		fmt.Fprintf(&out, "| %s | %.2f | %.3f | %.1f | %.2f | %.3f | %.2f | %.1f |\n",
			m.name, f.smape, f.mase, f.out[2], n.smape, n.mase, n.pinball, n.out)
	}
	t.Log(out.String())
	return results
}
