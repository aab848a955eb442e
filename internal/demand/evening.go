package demand

import "math"

// Numbers of the daily learning; VALIDATION.md says how they were chosen.
const (
	levelRate   = 0.05   // share of a day's surprise that moves the level for good
	growthRate  = 0.006  // share of the level's move that becomes growth
	growthKeep  = 0.95   // share of the growth left a day later
	weekdayRate = 0.064  // share that moves the weekday's own level for good
	latelyRate  = 0.0875 // share that moves it for some weeks
	latelyKeep  = 0.8    // share of that left a week later
	recentRate  = 0.23   // share that moves the passing deviation
	recentKeep  = 0.8    // share of that left a day later
	doubtFrom   = 1.2    // a surprise counts in full up to so many spreads
	doubtMore   = 3.0    // from here on it counts less and less
	doubtAll    = 12.0   // and from here on not at all

	spreadRate    = 0.05
	spreadOwn     = 0.6 // part of the spread that is the weekday's own
	spreadLargest = 2.5 // surprises widen the spread up to so many spreads
	spreadDays    = 10  // days that belief is worth

	startDays  = 14 // days whose middle is the first level
	startWorth = 4  // days that level is worth
	settleDays = 7  // days after a shift on which no surprise is doubted
	shiftRun   = 7  // doubtful surprises in a row, all up or all down, that are a shift nobody told of

	shortOwn   = 1.0 // spreads more to load after a day that ran out of more than was expected
	shortOther = 0.5 // after one on which another kind of the shop's did
	shortMost  = 3.0
	shortKeep  = 0.8 // share of that left a day later
)

// evening is what is known after a day, in log units.
type evening struct {
	level    Trend
	worth    int // days the level is worth: since the start or the last shift
	open     int // days still to come on which no surprise is doubted
	learned  int // days learned
	weekdays [7]weekday
	recent   float64 // passing deviation of the last days
	since    Day     // first day of that deviation's present sign
	doubtful int     // doubtful surprises in a row, counted up or down from 0
	alert    float64 // see Priors
	up, down float64 // what surprises have added up to, in spreads
	short    float64 // spreads more to load, since notes ran out lately
	variance float64
}

// weekday is what one day of the week has of its own.
type weekday struct {
	usual    float64 // for good
	lately   float64 // for some weeks
	learned  float64 // days learned, and what the shipped level is worth
	variance float64
}

// newEvening starts at the middle of the first days, so that an odd first day does not matter.
func newEvening(c *Calendar, h *logs, learned *effects, believed *Priors) evening {
	var first []float64
	for i, v := range h.values {
		day := h.first + Day(i)
		if v.known != Missing && len(first) < startDays {
			first = append(first, v.log-learned.of(c.at(day))-believed.weekdays[day.Weekday()])
		}
	}
	e := evening{
		level: Trend{Level: median(first)}, worth: startWorth, variance: believed.spread * believed.spread,
		alert: believed.alert,
	}
	for w := range e.weekdays {
		e.weekdays[w] = weekday{
			usual: believed.weekdays[w], learned: believed.weekdayWeight, variance: e.variance,
		}
	}
	return e
}

// spread is the usual size of a surprise on a weekday.
func (e *evening) spread(w int) float64 {
	return math.Sqrt(spreadOwn*e.weekdays[w].variance + (1-spreadOwn)*e.variance)
}

// night passes between two days; step is last year's movement, w the new weekday.
func (e *evening) night(step float64, w int) {
	e.level.Level += step
	e.recent *= recentKeep
	e.weekdays[w].lately *= latelyKeep
}

// expect is the log demand of the day that begins, without its calendar.
func (e *evening) expect(w int) float64 {
	return e.level.Next(growthKeep) + e.weekdays[w].usual + e.weekdays[w].lately + e.recent
}

// shift forgets the level: something is new from this day on.
func (e *evening) shift() {
	e.worth, e.open, e.doubtful, e.recent, e.level.Slope = 0, settleDays, 0, 0, 0
	e.up, e.down = 0, 0
}

// skip passes a day that teaches nothing.
func (e *evening) skip() { e.level = e.level.learn(0, 0, 0, growthKeep) }

// caution passes a day of trade. A kind that ran short, and less so another kind of the shop,
// makes the next days' loads larger than what was learned from it: nobody knows how much was
// asked for, and a shop that has moved to a new level runs short day after day.
func (e *evening) caution(ranOut, another bool) {
	switch {
	case ranOut:
		e.short += shortOwn
	case another:
		e.short = e.short*shortKeep + shortOther
	default:
		e.short *= shortKeep
	}
	e.short = min(e.short, shortMost)
}

// learnAtLeast takes a day on which the notes ran out: the surprise was this much or
// more, so that the mean of what lies beyond is the best guess. A box that empties
// early for its day says little; one that empties late says much. It tells nothing of spread.
func (e *evening) learnAtLeast(day Day, surprise float64, christmas bool) {
	variance, own := e.variance, e.weekdays[day.Weekday()].variance
	spread := e.spread(int(day.Weekday()))
	e.learn(day, spread*meanBeyond(surprise/spread), christmas)
	e.variance, e.weekdays[day.Weekday()].variance = variance, own
}

// meanBeyond is the mean of a standard normal above x (the inverse Mills ratio).
func meanBeyond(x float64) float64 {
	const far = 30 // the ratio is x within 1 part in 900, and its parts underflow
	if x > far {
		return x
	}
	return math.Sqrt(2/math.Pi) * math.Exp(-x*x/2) / math.Erfc(x/math.Sqrt2)
}

// learn takes a day's surprise. In the Christmas season level and weekdays stand
// still: what happens then says nothing about January.
func (e *evening) learn(day Day, surprise float64, christmas bool) {
	w := int(day.Weekday())
	if !christmas && e.shifted(surprise/e.spread(w)) {
		surprise += e.recent // the new level is measured from the old one alone
		e.shift()
	}
	believed := surprise
	if e.open == 0 {
		believed = doubt(surprise, e.spread(w))
	}
	before := e.recent
	if christmas {
		e.recent += recentRate * believed
		e.skip()
	} else {
		e.learnLevels(w, believed)
		e.learnSpread(w, surprise)
	}
	if before*e.recent <= 0 {
		e.since = day
	}
}

// shifted counts surprises in a row that are doubtful in the same direction, and
// says when there are too many for doubt.
func (e *evening) shifted(spreads float64) bool {
	switch {
	case e.open > 0:
		e.doubtful = 0
	case spreads > doubtMore:
		e.doubtful = max(e.doubtful, 0) + 1
	case spreads < -doubtMore:
		e.doubtful = min(e.doubtful, 0) - 1
	default:
		e.doubtful = 0
	}
	return e.doubtful == shiftRun || e.doubtful == -shiftRun || e.alarmed(spreads)
}

// alarmed adds up surprises (a tabular cumulative sum) and says when they are a new level.
func (e *evening) alarmed(spreads float64) bool {
	const slack, most = 0.75, 2
	if e.alert == 0 || e.open > 0 || e.learned < startDays {
		return false
	}
	spreads = min(max(spreads, -most), most)
	e.up, e.down = max(0, e.up+spreads-slack), max(0, e.down-spreads-slack)
	return max(e.up, e.down) > e.alert
}

func (e *evening) learnLevels(w int, believed float64) {
	own := &e.weekdays[w]
	e.level = e.level.learn(believed, max(levelRate, 1/float64(e.worth+1)), growthRate, growthKeep)
	if e.worth > 0 { // the first day after a shift is level, not deviation
		own.usual += max(weekdayRate, 1/(own.learned+1)) * believed
		own.lately += latelyRate * believed
		e.recent += recentRate * believed
	}
	own.learned++
	e.worth++
}

// learnSpread waits until a shift has settled: finding the new level is no spread.
func (e *evening) learnSpread(w int, surprise float64) {
	if e.open > 0 {
		e.open--
		return
	}
	own := &e.weekdays[w]
	e.learned++
	largest := spreadLargest * e.spread(w)
	squared := min(surprise*surprise, largest*largest)
	e.variance += max(spreadRate, 1/float64(e.learned+spreadDays)) * (squared - e.variance)
	own.variance += max(spreadRate, 1/(own.learned+spreadDays)) * (squared - own.variance)
}

// doubt trims a surprise: a day far off is more likely a fault in the figures
// or a day of its own kind than a change that lasts.
func doubt(surprise, spread float64) float64 {
	size := math.Abs(surprise) / spread
	share := min(max((doubtAll-size)/(doubtAll-doubtMore), 0), 1)
	return math.Copysign(min(size, doubtFrom*share)*spread, surprise)
}
