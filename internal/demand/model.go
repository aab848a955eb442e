package demand

import (
	"fmt"
	"math"
	"slices"
)

// AheadMax is how many days ahead a forecast reaches.
const AheadMax = 56

// Options of a fit; the zero value knows no special days and believes nothing.
type Options struct {
	Calendar *Calendar // special days of the shop's country; nil: none
	Priors   *Priors   // nil: NoPriors
	Shifts   []Day     // days from which demand is on a new level: another cassette, new hours
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
	shipped  bool
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
	m.steps = yearSteps(o.Calendar, values, &m.learned, AheadMax)
	residuals := m.replay(values, o)
	m.surprise = weighCurve(residuals, o.Priors)
	return m, nil
}

// replay goes through the history evening by evening. It returns each
// day's surprise in spreads of its time.
func (m *Model) replay(h *logs, o Options) []float64 {
	residuals := make([]float64, 0, len(h.values))
	m.evening = newEvening(o.Priors)
	for i, v := range h.values {
		day := h.first + Day(i)
		w := int(day.Weekday())
		marks := m.calendar.at(day)
		if slices.Contains(o.Shifts, day) {
			m.evening.shift()
		}
		m.evening.night(m.steps[i], w)
		surprise := v.log - m.evening.expect(w) - m.learned.of(marks)
		if v.known == Missing || v.known == AtLeast && surprise <= 0 {
			m.evening.skip()
			continue
		}
		if m.evening.settled > 0 && v.full() && !marks.special.christmas() {
			residuals = append(residuals, surprise/m.evening.spread(w))
		}
		m.evening.learn(day, surprise, marks.special.christmas())
	}
	return residuals
}

// curveDays is how many own surprises half of their curve's final say takes.
const curveDays = 40

func weighCurve(residuals []float64, believed *Priors) curve {
	n := float64(len(residuals))
	return curveOf(residuals).mix(believed.surprise, believed.ownCurve*n/(n+curveDays))
}

// rareNotes returns the known days in rising order when most of them had no demand at
// all: a logarithm cannot tell more about such a note than its own record.
func rareNotes(h History) []float64 {
	var notes []float64
	for _, o := range h.Days {
		if o.Known == Full {
			notes = append(notes, o.Notes)
		}
	}
	if median(notes) > 0 {
		return nil
	}
	return notes
}

// Ahead forecasts the day so many days after the history, 1 to AheadMax.
func (m *Model) Ahead(days int) (Forecast, error) {
	if days < 1 || days > AheadMax {
		return Forecast{}, fmt.Errorf("%d days ahead: want 1 to %d", days, AheadMax)
	}
	f := Forecast{
		Day: m.first + Day(m.days-1+days), KnownDays: m.full, Thin: m.full < thinDays, rare: m.rare, surprise: m.surprise,
	}
	if m.rare != nil {
		f.Mean = SampleQuantile(m.rare, 0.5)
		f.Terms = []Term{{Kind: Usual, Factor: 1, Notes: f.Mean}}
		return f, nil
	}
	f.Terms = m.terms(f.Day, days)
	f.Mean = f.Terms[0].Notes
	for _, t := range f.Terms[1:] {
		f.Mean *= t.Factor
	}
	f.spread = m.evening.spread(int(f.Day.Weekday())) * widen
	return f, nil
}

const (
	thinDays = 56
	widen    = 1.12
	bias     = 0.004
	biasFar  = 0.01
)

// terms of a day, the usual level first.
func (m *Model) terms(day Day, ahead int) []Term {
	e := &m.evening
	w := &e.weekdays[day.Weekday()]
	usual := e.level.Level + w.usual + w.lately*math.Pow(latelyKeep, float64((ahead+6)/7)) + bias
	if ahead > 1 {
		usual += biasFar
	}
	terms := []Term{{Kind: Usual, Factor: 1, Notes: math.Exp(usual)}}
	terms = append(terms, m.calendarTerms(day)...)
	year := 0.0
	for i := m.days; i < m.days+ahead; i++ {
		year += m.steps[i]
	}
	return append(terms,
		Term{Kind: Recent, Factor: math.Exp(e.recent * math.Pow(recentKeep, float64(ahead))), Since: e.since},
		Term{Kind: Growth, Factor: math.Exp(e.level.Ahead(ahead, growthKeep))},
		Term{Kind: LastYear, Factor: math.Exp(year)},
	)
}
