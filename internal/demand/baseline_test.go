package demand_test

import (
	"math"
	"slices"

	"shopfloat/internal/demand"
)

// habit is a simple rule a shopkeeper might follow: what a weekday's next day
// asks for, from the earlier days of the same weekday, oldest first.
type habit func(sameWeekday []float64) float64

func lastWeek(v []float64) float64 { return v[len(v)-1] }

func medianOf8(v []float64) float64 {
	last := slices.Clone(v[max(0, len(v)-8):])
	slices.Sort(last)
	return demand.SampleQuantile(last, 0.5)
}

// smoothed is single exponential smoothing of each weekday; the rate was chosen
// on the last 224 training days.
func smoothed(v []float64) float64 {
	level := demand.Trend{Level: v[0]}
	for _, x := range v[1:] {
		level = level.Step(x, 0.1, 0, 1)
	}
	return level.Level
}

// habitual follows a habit. Gaps take the median of the weekday so far, and quantiles are
// those of its own errors over the last year, added to the point.
type habitual struct {
	follow habit
	filled []float64
	errors []float64 // of each day, known the evening before; NaN where none
}

func newHabitual(follow habit, values []float64) *habitual {
	h := &habitual{follow: follow, filled: slices.Clone(values), errors: make([]float64, len(values))}
	for i, v := range values {
		h.errors[i] = math.NaN()
		past := h.sameWeekday(i, i)
		if math.IsNaN(v) {
			h.filled[i] = 0
			if len(past) > 0 {
				slices.Sort(past)
				h.filled[i] = demand.SampleQuantile(past, 0.5)
			}
			continue
		}
		if len(past) > 0 {
			h.errors[i] = v - follow(past)
		}
	}
	return h
}

// sameWeekday are the days of day i's weekday among the first known ones.
func (h *habitual) sameWeekday(i, known int) []float64 {
	var past []float64
	for j := i % 7; j < min(i, known); j += 7 {
		past = append(past, h.filled[j])
	}
	return past
}

func (h *habitual) forecast(known, ahead int) answer {
	a := answer{mean: h.follow(h.sameWeekday(known+ahead-1, known))}
	var errors []float64
	for _, e := range h.errors[max(0, known-364):known] {
		if !math.IsNaN(e) {
			errors = append(errors, e)
		}
	}
	slices.Sort(errors)
	for i, p := range levels {
		a.quantiles[i] = max(a.mean+demand.SampleQuantile(errors, p), 0)
	}
	return a
}
