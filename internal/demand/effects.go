package demand

import "math"

// effects holds the log factor of every class; that of ordinary stays 0.
type effects [classes]float64

func (f *effects) of(m marks) float64 { return f[m.special] + f[m.month] + f[m.payday] }

// sample sums what days of one class showed.
type sample struct{ sum, count float64 }

// Numbers of the calendar's learning; VALIDATION.md says how they were chosen.
const (
	nearWeeks     = 3   // weeks on either side that say what is usual
	nearEnough    = 4   // ordinary days that make special ones unnecessary
	effectSweeps  = 2   // a day may have several classes: each is freed of the others
	monthCaution  = 0.4 // how slowly a shop's own months stretch the shipped ones
	effectLargest = 3.0 // no day is more than e^3 = 20 times another
)

// learnEffects weighs the shop's own special days against what is believed
// before: an effect believed with weight w gives way to w own occurrences by half.
func learnEffects(c *Calendar, kinds []*logs, believed *Priors) []effects {
	learned := make([]effects, len(kinds))
	for i := range learned {
		learned[i] = believed.effects
	}
	for range effectSweeps {
		own := make([][classes]sample, len(kinds))
		var all [classes]sample
		for i, h := range kinds {
			own[i] = ownEffects(c, h, &learned[i])
			for k, s := range own[i] {
				all[k].sum += s.sum / float64(len(kinds))
				all[k].count += s.count / float64(len(kinds))
			}
		}
		for i := range kinds {
			for k := range own[i] {
				own[i][k].sum += believed.alike * (all[k].sum - own[i][k].sum)
				own[i][k].count += believed.alike * (all[k].count - own[i][k].count)
			}
			learned[i] = weighEffects(&own[i], believed)
		}
	}
	return learned
}

func weighEffects(own *[classes]sample, believed *Priors) (learned effects) {
	before := believed.effects
	stretchMonths(&before, own)
	for k := 1; k < classes; k++ {
		weight := believed.weights[class(k).group()]
		value := (own[k].sum + weight*before[k]) / (own[k].count + weight)
		learned[k] = min(max(value, -effectLargest), effectLargest)
	}
	return learned
}

// ownEffects gathers, per class, how far its days lay from usual days nearby,
// freed of what is learned so far about the day's other classes.
func ownEffects(c *Calendar, h *logs, learned *effects) [classes]sample {
	var own [classes]sample
	var buffer []float64
	for i, v := range h.values {
		day := c.at(h.first + Day(i))
		if v.known == Missing || day == ordinaryDay {
			continue
		}
		usual, ok := usualNear(c, h, i, learned, &buffer)
		if !ok {
			continue
		}
		rest := v.log - usual - learned.of(day)
		if v.known == AtLeast && rest < 0 {
			continue // it may have been as much as expected
		}
		for _, k := range [...]class{day.special, day.month, day.payday} {
			if k != ordinary {
				own[k].sum += rest + learned[k]
				own[k].count++
			}
		}
	}
	return own
}

// ordinaryDay has nothing special.
var ordinaryDay marks

// usualNear is the median of the same weekday in the weeks around day i, of
// ordinary days if there are enough of them. The Christmas season never counts.
func usualNear(c *Calendar, h *logs, i int, learned *effects, buffer *[]float64) (float64, bool) {
	near := (*buffer)[:0]
	for _, wantOrdinary := range [...]bool{true, false} {
		for k := -nearWeeks; k <= nearWeeks; k++ {
			j := i + 7*k
			if k == 0 || j < 0 || j >= len(h.values) || !h.values[j].full() {
				continue
			}
			m := c.at(h.first + Day(j))
			if (m == ordinaryDay) == wantOrdinary && !m.special.christmas() {
				near = append(near, h.values[j].log-learned.of(m))
			}
		}
		if len(near) >= nearEnough {
			break
		}
	}
	*buffer = near
	return median(near), len(near) > 0
}

// stretchMonths scales the believed month as a whole to the shop's own: a shop
// whose customers are not paid monthly has flat months, whatever is shipped.
func stretchMonths(before *effects, own *[classes]sample) {
	above, below := monthCaution, monthCaution
	for k := monthFirst; k <= paydayAfter; k++ {
		above += own[k].sum * before[k]
		below += own[k].count * before[k] * before[k]
	}
	stretch := math.Max(above/below, 0)
	for k := monthFirst; k <= paydayAfter; k++ {
		before[k] *= stretch
	}
}
