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
	spreadStart   = 0.3 // spread before anything is known, in log units
	spreadDays    = 10  // days that belief is worth

	settleDays = 14 // days after a start or a shift on which no surprise is doubted
)

// evening is what is known after a day, in log units.
type evening struct {
	level    Trend
	settled  int // days learned since the start or the last shift
	weekdays [7]weekday
	recent   float64 // passing deviation of the last days
	since    Day     // first day of that deviation's present sign
	variance float64
}

// weekday is what one day of the week has of its own.
type weekday struct {
	usual    float64 // for good
	lately   float64 // for some weeks
	learned  float64 // days learned, and what the shipped level is worth
	variance float64
}

func newEvening(believed *Priors) evening {
	e := evening{variance: spreadStart * spreadStart}
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
	e.settled, e.recent, e.level.Slope = 0, 0, 0
}

// skip passes a day that teaches nothing.
func (e *evening) skip() { e.level = e.level.learn(0, 0, 0, growthKeep) }

// learn takes a day's surprise. In the Christmas season level and weekdays stand
// still: what happens then says nothing about January.
func (e *evening) learn(day Day, surprise float64, christmas bool) {
	w := int(day.Weekday())
	believed := surprise
	if e.settled >= settleDays {
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

func (e *evening) learnLevels(w int, believed float64) {
	own := &e.weekdays[w]
	settling := 1 / float64(e.settled+1)
	e.level = e.level.learn(believed, max(levelRate, settling), growthRate, growthKeep)
	if e.settled < settleDays {
		e.level.Slope = 0
	}
	if settling < 1 { // the first day of all is level, not deviation
		own.usual += max(weekdayRate, 1/(own.learned+2)) * believed
		own.lately += latelyRate * believed
		e.recent += recentRate * believed
		own.learned++
	}
	e.settled++
}

func (e *evening) learnSpread(w int, surprise float64) {
	if e.settled <= 1 {
		return // the first day says nothing about spread
	}
	own := &e.weekdays[w]
	largest := spreadLargest * e.spread(w)
	squared := min(surprise*surprise, largest*largest)
	e.variance += max(spreadRate, 1/float64(e.settled+spreadDays)) * (squared - e.variance)
	own.variance += max(spreadRate, 1/(own.learned+spreadDays)) * (squared - own.variance)
}

// doubt trims a surprise: a day far off is more likely a fault in the figures
// or a day of its own kind than a change that lasts.
func doubt(surprise, spread float64) float64 {
	size := math.Abs(surprise) / spread
	share := min(max((doubtAll-size)/(doubtAll-doubtMore), 0), 1)
	return math.Copysign(min(size, doubtFrom*share)*spread, surprise)
}
