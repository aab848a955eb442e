package demand

import (
	"math"
	"slices"
)

// effects holds the log factor of every class.
type effects [classes]float64

// of is the log factor of a day.
func (f *effects) of(c *Calendar, day Day) float64 {
	special, month := c.at(day)
	return f[special] + f[month]
}

type sample struct{ sum, n float64 }

// ownEffects gathers, per class, how far its days lay above or below ordinary days
// of the same weekday nearby. eff is what is believed of the other class of a day.
func ownEffects(c *Calendar, first Day, logs []float64, t *tuning, eff *effects) [classes]sample {
	var out [classes]sample
	var near []float64
	for i, v := range logs {
		special, month := c.at(first + Day(i))
		if math.IsNaN(v) || special == ordinary && month == ordinary {
			continue
		}
		base, ok := usualNear(c, first, logs, i, t.effectWeeks, &near, eff)
		if !ok {
			continue
		}
		if special != ordinary {
			out[special].sum += v - base - eff[month]
			out[special].n++
		}
		if month != ordinary {
			out[month].sum += v - base - eff[special]
			out[month].n++
		}
	}
	return out
}

// usualNear is the median of the same weekday within some weeks around day i.
func usualNear(c *Calendar, first Day, logs []float64, i, weeks int, near *[]float64, eff *effects) (float64, bool) {
	buf := (*near)[:0]
	for pass := range 2 {
		for k := -weeks; k <= weeks; k++ {
			j := i + 7*k
			if k == 0 || j < 0 || j >= len(logs) || math.IsNaN(logs[j]) {
				continue
			}
			s, m := c.at(first + Day(j))
			if (s == ordinary && m == ordinary) == (pass == 0) {
				if s >= christmasFirst && s <= christmasLast {
					continue
				}
				buf = append(buf, logs[j]-eff[s]-eff[m])
			}
		}
		if len(buf) >= 4 {
			break
		}
	}
	*near = buf
	if len(buf) == 0 {
		return 0, false
	}
	return median(buf), true
}

// median sorts v and returns its middle, or NaN of nothing.
func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	slices.Sort(v)
	h := len(v) / 2
	if len(v)%2 == 1 {
		return v[h]
	}
	return (v[h-1] + v[h]) / 2
}

func learnEffects(c *Calendar, first Day, logs []float64, t *tuning, prior *effects) effects {
	eff := *prior
	for k := monthFirst; k <= monthLast; k++ {
		eff[k] *= t.monthShare
	}
	eff0 := eff
	for range 2 {
		own := ownEffects(c, first, logs, t, &eff)
		for k := range eff {
			share := 1.0
			if class(k) >= monthFirst {
				share = t.monthShare
			}
			eff[k] = (share*own[k].sum + t.effectPrior*eff0[k]) / (own[k].n + t.effectPrior)
		}
	}
	return eff
}
