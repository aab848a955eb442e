package demand

// Numbers of last year's movement; VALIDATION.md says how they were chosen.
const (
	yearDays    = 364  // 52 weeks, so that weekdays meet
	yearMargin  = 28   // days beyond a year before last year is believed
	yearKeep    = 0.72 // share of last year's movement that comes again
	yearWorth   = 2.0  // what that is worth beside a shop's own, as a sum of squares over its days
	yearSpan    = 56   // days over which movements of two years are compared
	yearWidth   = 21   // days on either side over which it is smoothed
	keptMost    = 1.2  // no more of it comes again
	yearDeepest = 0.6  // a day's own deviation counts up to this, in log units
)

// yearSteps is what last year's movement adds to the level each day of the
// history and ahead days after, in log units. It is nothing before the 13th month.
func yearSteps(c *Calendar, h *logs, learned *effects, ahead int) []float64 {
	steps := make([]float64, len(h.values)+ahead)
	if len(h.values) < yearDays+yearMargin {
		return steps
	}
	level := movement(c, h, learned)
	keep := kept(level)
	for i := yearDays + 1; i < len(steps); i++ {
		steps[i] = keep * (level[i-yearDays] - level[i-yearDays-1])
	}
	return steps
}

// kept is the share of last year's movement that comes again at this shop: what it was so far,
// and what is usual until that says enough.
func kept(level []float64) float64 {
	both, squares := yearWorth*yearKeep, yearWorth
	for i := yearDays + yearSpan; i < len(level); i++ {
		before := level[i-yearDays] - level[i-yearDays-yearSpan]
		both += before * (level[i] - level[i-yearSpan])
		squares += before * before
	}
	return min(max(both/squares, 0), keptMost)
}

// movement is the slow movement of the history, freed of weekday and calendar.
func movement(c *Calendar, h *logs, learned *effects) []float64 {
	rest := deviations(c, h, learned)
	out := make([]float64, len(rest))
	for i := range out {
		sum, weights := 0.0, 0.0
		for j := max(i-yearWidth, 0); j <= min(i+yearWidth, len(rest)-1); j++ {
			if rest[j].full() {
				weight := float64(yearWidth + 1 - max(i-j, j-i))
				sum += weight * rest[j].log
				weights += weight
			}
		}
		switch {
		case weights > 0:
			out[i] = sum / weights
		case i > 0:
			out[i] = out[i-1]
		}
	}
	return out
}

// deviations of each day from the median of its weekday, the Christmas season left out.
func deviations(c *Calendar, h *logs, learned *effects) []logged {
	rest := make([]logged, len(h.values))
	var byWeekday [7][]float64
	for i, v := range h.values {
		day := h.first + Day(i)
		marks := c.at(day)
		if !v.full() || marks.special.christmas() {
			continue
		}
		rest[i] = logged{v.log - learned.of(marks), Full}
		byWeekday[day.Weekday()] = append(byWeekday[day.Weekday()], rest[i].log)
	}
	var usual [7]float64
	for w := range usual {
		usual[w] = median(byWeekday[w])
	}
	for i := range rest {
		deviation := rest[i].log - usual[(h.first+Day(i)).Weekday()]
		rest[i].log = min(max(deviation, -yearDeepest), yearDeepest)
	}
	return rest
}
