package demand

import "math"

// Numbers of the daily learning; VALIDATION.md says how they were chosen.
const (
	growthRate  = 0.006 // share of the level's move that becomes growth
	growthKeep  = 0.95  // share of the growth left a day later
	weekdayRate = 0.064 // share of a day's surprise that moves the weekday's own level for good
	latelyKeep  = 0.8   // share of what moves it for some weeks left a week later
	recentKeep  = 0.8   // share of the passing deviation left a day later
	doubtMore   = 3.0   // from here on a surprise counts less and less
	doubtAll    = 12.0  // and from here on not at all

	saysOwn  = 0.7 // how much of a weekday's own spread counts in what it tells of the level
	saysMost = 3.0 // and up to how many times more or less than others it tells

	startDays  = 14  // days whose middle is the first level
	sharedMost = 0.5 // how much of its weekdays a kind has from the others at most
	settleDays = 7   // days after a shift on which no surprise is doubted
	shiftRun   = 7   // doubtful surprises in a row, all up or all down, that are a shift nobody told of
	spreadShop = 20  // days after which the spread is as much a kind's own as the shop's
	alarmSlack = 0.9 // spreads that a surprise is not held against the level
	alarmMost  = 3.0 // and that it counts at most

	burstSlack = 1.5 // spreads above what was expected from which a day says that the next may be high too
	burstMost  = 5.0 // and up to which
	burstKeep  = 0.8 // share of that left a day later

	shortUp    = 1.0 // spreads more to load for each that surprises have added up to
	shortFrom  = 1.0 // beyond this
	shortMost  = 3.0
	shortKeep  = 0.8 // share of that left a day later
	shortShift = 0.5 // and once the level is a new one
)

// rates say how fast an evening learns: shares of a day's surprise that move something.
type rates struct {
	level  float64 // the level, for good
	lately float64 // the weekday's own, for some weeks
	recent float64 // the passing deviation
	spread float64 // the spread, of a surprise's square

	spreadDays    float64 // days that the belief of the spread is worth
	spreadOwn     float64 // part of the spread that is the weekday's own
	spreadLargest float64 // surprises widen the spread up to so many spreads

	start     int     // days that the first level is worth
	doubt     float64 // a surprise counts in full up to so many spreads
	curveDays float64 // own surprises that half of their curve's final say takes

	short float64 // spreads more to load after a day on which some kind ran short
	many  float64 // and after one on which most of the shop's kinds did
	burst float64 // and for each spread of a burst
	young bool    // a surprise is wider, and so is a load, while a level is not learned yet
}

// evening is what is known after a day, in log units.
type evening struct {
	rates    *rates
	alert    float64 // see Priors
	alike    float64 // see Priors
	level    Trend
	worth    int // days the level is worth: since the start or the last shift
	open     int // days still to come on which no surprise is doubted
	learned  int // days learned
	weekdays [7]weekday
	recent   float64 // passing deviation of the last days
	since    Day     // first day of that deviation's present sign
	doubtful int     // doubtful surprises in a row, counted up or down from 0
	up, down float64 // what surprises have added up to, in spreads
	run      sample  // surprises in a row that did, one way, measured from the level
	short    float64 // spreads more to load, since notes ran out lately
	burst    float64 // spreads by which the last days were far above what was expected
	variance float64
	shops    float64 // mean variance of the shop's kinds
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
		rates: &believed.rates, alert: believed.alert, alike: believed.alike,
		level: Trend{Level: median(first)}, worth: believed.rates.start,
		variance: believed.spread * believed.spread,
	}
	e.shops = e.variance
	for w := range e.weekdays {
		e.weekdays[w] = weekday{
			usual: believed.weekdays[w], learned: believed.weekdayWeight, variance: e.variance,
		}
	}
	return e
}

// spread is the usual size of a surprise on a weekday, once its level is learned.
func (e *evening) spread(w int) float64 {
	all := e.variance + float64(spreadShop)/float64(spreadShop+e.learned)*e.alike*(e.shops-e.variance)
	return math.Sqrt(e.rates.spreadOwn*e.weekdays[w].variance + (1-e.rates.spreadOwn)*all)
}

// wide is by how much a surprise is wider while level and weekday are young: what is not
// known of them is as a share of one day's chance.
func (e *evening) wide(w int) float64 {
	if !e.rates.young {
		return 1
	}
	unknown := 1/e.weekdays[w].learned - weekdayRate/2 + 1/float64(max(e.worth, 1)) - e.rates.level/2
	return math.Sqrt(1 + max(unknown, 0))
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
	e.up, e.down, e.run, e.burst = 0, 0, sample{}, 0
	e.short *= shortShift
}

// skip passes a day that teaches nothing.
func (e *evening) skip() { e.level = e.level.learn(0, 0, 0, growthKeep) }

// caution passes a day of trade on which so many of the shop's kinds ran out of more than was
// expected. Where most of them did the next days' loads are larger than what was learned from
// it: nobody knows how much was asked for, and a shop at a new level runs short day after day.
func (e *evening) caution(ranOut, kinds int) {
	e.short *= shortKeep
	if ranOut == 0 || e.learned < startDays {
		return
	}
	more := e.rates.short
	if 2*ranOut > kinds {
		more = max(more, e.rates.many)
	}
	e.short = min(e.short+more, shortMost)
}

// more is how many spreads more to load for what may be a new level, or days that come together.
func (e *evening) more() float64 {
	return e.short + shortUp*max(0, e.up-shortFrom) + e.rates.burst*e.burst
}

// comeTogether remembers a day far above what was expected: the day after such a one is far
// above more often than others, though nobody knows on which.
func (e *evening) comeTogether(s surprise) {
	if e.open == 0 && e.learned >= startDays {
		e.burst = max(0, burstKeep*e.burst+min(max(s.shop, -burstMost), burstMost)-burstSlack)
	}
}

// believe trims a surprise, but for the days on which a new level is looked for.
func (e *evening) believe(surprise, spread float64) float64 {
	if e.open > 0 {
		return surprise
	}
	return doubt(surprise, spread, e.rates.doubt)
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
func (e *evening) learn(day Day, s surprise, christmas bool) {
	before := e.recent
	switch {
	case christmas:
		e.recent += e.rates.recent * e.shared(s)
		e.skip()
	case e.shifted(s):
		e.settle(s, int(day.Weekday()))
	default:
		e.comeTogether(s)
		e.learnLevels(int(day.Weekday()), s)
		e.learnSpread(int(day.Weekday()), s)
	}
	if before*e.recent <= 0 {
		e.since = day
	}
}

// shared is what a surprise says of the shop's customers, who come for all kinds of notes.
func (e *evening) shared(s surprise) float64 {
	return s.believed + min(e.alike, sharedMost)*(s.common-s.believed)
}

// settle begins a new level on the evening it is seen. It is measured from the old one alone, on the
// days since it showed.
func (e *evening) settle(s surprise, w int) {
	run := e.run
	if run.count == 0 {
		run = sample{s.size + e.recent, 1}
	}
	e.shift()
	e.level = e.level.learn(run.sum/run.count, 1, 0, growthKeep)
	e.weekdays[w].learned++
	e.worth = int(run.count)
	e.open--
}

// shifted counts surprises in a row that are doubtful in the same direction, and
// says when there are too many for doubt.
func (e *evening) shifted(s surprise) bool {
	switch spreads := s.size / s.spread; {
	case e.open > 0:
		e.doubtful = 0
	case spreads > doubtMore:
		e.doubtful = max(e.doubtful, 0) + 1
	case spreads < -doubtMore:
		e.doubtful = min(e.doubtful, 0) - 1
	default:
		e.doubtful = 0
	}
	return e.alarmed(s) || e.doubtful == shiftRun || e.doubtful == -shiftRun
}

// alarmed adds up surprises (a tabular cumulative sum) and says when they are a new level.
func (e *evening) alarmed(s surprise) bool {
	if e.alert == 0 || e.open > 0 || e.learned < startDays {
		return false
	}
	spreads := min(max(s.shop, -alarmMost), alarmMost)
	off := s.size + e.recent
	if math.Abs(spreads) < alarmSlack || off*e.run.sum < 0 {
		e.run = sample{}
	} else {
		e.run = sample{e.run.sum + off, e.run.count + 1}
	}
	e.up, e.down = max(0, e.up+spreads-alarmSlack), max(0, e.down-spreads-alarmSlack)
	return max(e.up, e.down) > e.alert
}

func (e *evening) learnLevels(w int, s surprise) {
	own := &e.weekdays[w]
	rate := e.rates.level * e.says(w)
	e.level = e.level.learn(s.believed, max(rate, 1/float64(e.worth+1)), growthRate, growthKeep)
	if e.worth > 0 { // the first day after a shift is level, not deviation
		shared := e.shared(s)
		own.usual += max(weekdayRate, 1/(own.learned+1)) * shared
		own.lately += e.rates.lately * shared
		e.recent += e.rates.recent * shared
	}
	own.learned++
	e.worth++
}

// says is how much a weekday's surprise tells of the level beside those of the other weekdays: the
// more chance there is in it, the less.
func (e *evening) says(w int) float64 {
	if e.rates.young { // the spreads of its weekdays are not learned yet
		return 1
	}
	mean := 0.0
	for i := range e.weekdays {
		mean += e.weekdays[i].variance / 7
	}
	own := saysOwn*e.weekdays[w].variance + (1-saysOwn)*mean
	return min(max(mean/own, 1/saysMost), saysMost)
}

// learnSpread waits until a shift has settled: finding the new level is no spread. Nor does a
// day on which the notes ran out tell of it.
func (e *evening) learnSpread(w int, s surprise) {
	if e.open > 0 {
		e.open--
		return
	}
	e.learned++
	if s.least {
		return
	}
	own, usual := &e.weekdays[w], e.spread(w)
	size, days := min(math.Abs(s.size)/s.spread, e.rates.spreadLargest)*usual, e.rates.spreadDays
	e.variance += max(e.rates.spread, 1/(float64(e.learned)+days)) * (size*size - e.variance)
	own.variance += max(e.rates.spread, 1/(own.learned+days)) * (size*size - own.variance)
}

// doubt trims a surprise: a day far off is more likely a fault in the figures
// or a day of its own kind than a change that lasts.
func doubt(surprise, spread, from float64) float64 {
	size := math.Abs(surprise) / spread
	share := min(max((doubtAll-size)/(doubtAll-doubtMore), 0), 1)
	return math.Copysign(min(size, from*share)*spread, surprise)
}
