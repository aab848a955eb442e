package demand

import "slices"

// AheadMax is how many days ahead a forecast reaches.
const AheadMax = 56

// Options of a fit; the zero value knows no special days and believes nothing.
type Options struct {
	Calendar *Calendar // special days of the shop's country; nil: none
	Priors   *Priors   // nil: NoPriors
	Shifts   []Day     // days from which demand is on a new level: another cassette, new hours
	Others   []Day     // when another kind of the shop's notes ran short, in any order
}

// Model is what one history taught. It does not change and may be shared.
type Model struct {
	calendar *Calendar
	learned  effects
	steps    []float64 // last year's movement by day of history and after
	first    Day
	days     int // length of the history
	full     int // days that taught something
	evening  evening
	surprise curve
	rare     []float64 // notes in rising order where most days have none; else nil
	unsure   float64
	seen     [classes]float64 // own days of each class
	short    []Day            // days that ran out of more than was expected
}

// Fit learns a history. It returns ErrNoHistory when no day has a figure
// and ErrHistory when one cannot be a count of notes.
func Fit(h History, o Options) (*Model, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	values, err := newLogs(h)
	if err != nil {
		return nil, err
	}
	if o.Priors == nil {
		o.Priors = NoPriors()
	}
	if o.Calendar == nil {
		o.Calendar = NewCalendar(h.First, h.First, nil)
	}
	m := &Model{calendar: o.Calendar, first: h.First, days: len(h.Days), full: values.full}
	m.rare = rareNotes(h)
	if m.rare != nil {
		return m, nil
	}
	m.learned = learnEffects(o.Calendar, values, o.Priors)
	m.count(values, o.Priors)
	m.steps = yearSteps(o.Calendar, values, &m.learned, AheadMax)
	residuals := m.replay(values, o)
	m.surprise = weighCurve(residuals, o.Priors)
	return m, nil
}

// replay goes through the history evening by evening. It returns each
// day's surprise in spreads of its time.
func (m *Model) replay(h *logs, o Options) []float64 {
	residuals := make([]float64, 0, len(h.values))
	m.evening = newEvening(m.calendar, h, &m.learned, o.Priors)
	for i, v := range h.values {
		day := h.first + Day(i)
		w := int(day.Weekday())
		marks := m.calendar.at(day)
		if slices.Contains(o.Shifts, day) {
			m.evening.shift()
		}
		m.evening.night(m.steps[i], w)
		surprise := v.log - m.evening.expect(w) - m.learned.of(marks)
		christmas := marks.special.christmas()
		if v.known != Missing {
			m.caution(day, v.known == AtLeast && surprise > 0, o.Others)
		}
		switch v.known {
		case Missing:
			m.evening.skip()
		case AtLeast:
			m.evening.learnAtLeast(day, surprise, christmas)
		case Full:
			if !christmas {
				residuals = append(residuals, surprise/m.evening.spread(w))
			}
			m.evening.learn(day, surprise, christmas)
		}
	}
	return residuals
}

// caution passes a day of trade to the evening's caution.
func (m *Model) caution(day Day, ranOut bool, others []Day) {
	if ranOut {
		m.short = append(m.short, day)
	}
	m.evening.caution(ranOut, slices.Contains(others, day))
}

// Short lists the days, oldest first, on which at least so much was asked for that the notes
// ran out, and more than was expected then: those are what Options.Others wants of another kind.
func (m *Model) Short() []Day { return slices.Clone(m.short) }

// count says how often each class of day has been seen.
func (m *Model) count(h *logs, believed *Priors) {
	m.unsure = believed.unsure
	for i, v := range h.values {
		if k := m.calendar.at(h.first + Day(i)); v.known != Missing {
			m.seen[k.special]++
			m.seen[k.month]++
			m.seen[k.payday]++
		}
	}
}

// doubt is what is not known of a day's classes, as a variance.
func (m *Model) doubt(day Day) (variance float64) {
	marks := m.calendar.at(day)
	for _, k := range [...]class{marks.special, marks.month, marks.payday} {
		if k != ordinary {
			variance += m.unsure * m.unsure / (1 + m.seen[k])
		}
	}
	return variance
}

// curveDays is how many own surprises half of their curve's final say takes.
const curveDays = 40

func weighCurve(residuals []float64, believed *Priors) curve {
	n := float64(len(residuals))
	return curveOf(residuals).mix(believed.surprise, believed.ownCurve*n/(n+curveDays))
}

// rareNotes returns the known days in rising order when most of them had no demand at
// all: a logarithm cannot tell more about such a note than its own record. Else nil.
func rareNotes(h History) []float64 {
	notes := fullNotes(h)
	if median(notes) > 0 {
		return nil
	}
	return notes
}
