package demand

import (
	"math"
	"slices"
)

// surprise is by how much a day was off, in log units.
type surprise struct {
	size     float64 // where the notes ran out: the best guess of it
	spread   float64 // usual size of it
	believed float64 // what of it is not doubted
	common   float64 // what is believed of it on the mean of the shop's kinds
	shop     float64 // in spreads, with what the other kinds say of it
	least    bool    // the notes ran out
	ranOut   bool    // and more was asked for than expected
}

// learner is one kind of note of a shop while it is learned.
type learner struct {
	*Model
	logs      *logs
	residuals []float64 // surprises in spreads of their time
}

// learnTogether goes through the histories of a shop's kinds evening by evening.
func learnTogether(kinds []*learner, o Options) {
	if len(kinds) == 0 {
		return
	}
	first, next := kinds[0].first, kinds[0].first
	all := make([]*logs, len(kinds))
	for i, k := range kinds {
		all[i] = k.logs
		first, next = min(first, k.first), max(next, k.first+Day(k.days))
	}
	for i, learned := range learnEffects(o.Calendar, all, o.Priors) {
		k := kinds[i]
		k.learned = learned
		k.steps = yearSteps(o.Calendar, k.logs, &k.learned, AheadMax)
		k.echo.spreads = make([]float64, k.days)
		k.evening = newEvening(o.Calendar, k.logs, &k.learned, o.Priors)
	}
	for day := first; day < next; day++ {
		pass(kinds, day, slices.Contains(o.Shifts, day))
	}
	for _, k := range kinds {
		k.surprise = weighCurve(k.residuals, o.Priors)
	}
}

// pass lets one day pass. What it tells of one kind it tells in part of all.
func pass(kinds []*learner, day Day, shift bool) {
	list := make([]surprise, len(kinds))
	known := make([]*surprise, 0, len(kinds))
	ranOut := 0
	for i, k := range kinds {
		if !k.covers(day) {
			continue
		}
		if shift {
			k.evening.shift()
		}
		k.evening.night(k.steps[day-k.first], int(day.Weekday()))
		if k.logs.values[day-k.first].known == Missing {
			k.evening.skip()
			continue
		}
		list[i] = k.off(day)
		known = append(known, &list[i])
		if list[i].ranOut {
			ranOut++
		}
	}
	join(known, kinds[0].evening.alike)
	variance := 0.0
	for i, k := range kinds {
		if list[i].spread > 0 {
			k.evening.caution(ranOut, len(known))
			k.take(day, list[i])
		}
		variance += k.evening.variance / float64(len(kinds))
	}
	for _, k := range kinds {
		k.evening.shops = variance
	}
}

func (k *learner) covers(day Day) bool { return day >= k.first && day < k.first+Day(k.days) }

// off is by how much a day was off.
func (k *learner) off(day Day) surprise {
	w, v := int(day.Weekday()), k.logs.values[day-k.first]
	s := surprise{
		size:   v.log - k.evening.expect(w) - k.learned.of(k.calendar.at(day)),
		spread: k.evening.spread(w) * k.evening.wide(w),
		least:  v.known == AtLeast,
	}
	if k.evening.rates.young {
		s.spread = math.Sqrt(s.spread*s.spread + k.doubt(day))
	}
	if s.least { // the mean of what lies beyond is the best guess
		s.ranOut = s.size > 0
		s.size = s.spread * meanBeyond(s.size/s.spread)
	}
	s.believed = k.evening.believe(s.size, s.spread)
	return s
}

// correlation of what a shop's kinds are off by on one day, as it is thought to be; no source.
const correlation = 0.5

// join tells each surprise of a day of the others. Where there is one kind it tells nothing.
func join(known []*surprise, alike float64) {
	n, believed, weights, spreads := float64(len(known)), 0.0, 0.0, 0.0
	for _, s := range known { // a kind of which few are paid is mostly chance
		weight := 1 / (s.spread * s.spread)
		believed += weight * s.believed
		weights += weight
		spreads += s.size / s.spread / n
	}
	own, other := 1-alike+alike/n, alike/n // how much of it counts, and of each of the others
	size := math.Sqrt(own*own + (n-1)*other*other + correlation*(n-1)*other*(2*own+(n-2)*other))
	for _, s := range known {
		s.common = believed / weights
		s.shop = (s.size/s.spread*(1-alike) + alike*spreads) / size
	}
}

// take learns a surprise.
func (k *learner) take(day Day, s surprise) {
	marks := k.calendar.at(day)
	for _, c := range [...]class{marks.special, marks.month, marks.payday} {
		k.seen[c]++
	}
	if !s.least && !marks.special.christmas() {
		k.residuals = append(k.residuals, s.size/s.spread)
		k.echo.learn(int(day-k.first), s.size/s.spread)
	}
	k.evening.learn(day, s, marks.special.christmas())
}
