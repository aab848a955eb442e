package demand

import "errors"

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
	echo     echo
	surprise curve
	rare     []float64        // notes in rising order where most days have none; else nil
	unsure   [groups]float64  // see Priors
	widen    float64          // see Priors
	seen     [classes]float64 // own days of each class
}

// Fit learns a history. It returns ErrNoHistory when no day has a figure
// and ErrHistory when one cannot be a count of notes.
func Fit(h History, o Options) (*Model, error) {
	models, err := Together([]History{h}, o)
	if err == nil && models[0] == nil {
		err = ErrNoHistory
	}
	if err != nil {
		return nil, err
	}
	return models[0], nil
}

// Together learns the kinds of note of one shop: its customers come on the same days for
// all of them. A kind of which no day has a figure has no model.
func Together(histories []History, o Options) ([]*Model, error) {
	if o.Priors == nil {
		o.Priors = NoPriors()
	}
	if o.Calendar == nil {
		o.Calendar = NewCalendar(0, 0, nil)
	}
	models := make([]*Model, len(histories))
	var learners []*learner
	for i, h := range histories {
		if err := h.check(); err != nil {
			return nil, err
		}
		notes := fullNotes(h)
		values, err := newLogs(h, median(notes))
		if errors.Is(err, ErrNoHistory) {
			continue
		}
		m := &Model{calendar: o.Calendar, first: h.First, days: len(h.Days), full: values.full,
			unsure: o.Priors.unsure, widen: o.Priors.widen, rare: rareNotes(notes)}
		if models[i] = m; m.rare == nil {
			learners = append(learners, &learner{Model: m, logs: values})
		}
	}
	learnTogether(learners, o)
	return models, nil
}

// doubt is what is not known of a day's classes, as a variance.
func (m *Model) doubt(day Day) (variance float64) {
	marks := m.calendar.at(day)
	for _, k := range [...]class{marks.special, marks.month, marks.payday} {
		if k != ordinary {
			unsure := m.unsure[k.group()]
			variance += unsure * unsure / (1 + m.seen[k])
		}
	}
	return variance
}

func weighCurve(residuals []float64, believed *Priors) curve {
	n := float64(len(residuals))
	return curveOf(residuals).mix(believed.surprise, believed.ownCurve*n/(n+believed.rates.curveDays))
}

// rareNotes returns the known days, which are in rising order, when most of them had no demand at
// all: a logarithm cannot tell more about such a note than its own record. Else nil.
func rareNotes(notes []float64) []float64 {
	if SampleQuantile(notes, 0.5) > 0 {
		return nil
	}
	return notes
}
