package demand

import (
	"errors"
	"fmt"
	"math"
)

// Known says how much a day's figure tells about demand.
type Known uint8

// The zero value teaches nothing.
const (
	Missing Known = iota // no figure, shop closed, or the machine was out of service
	Full                 // everything customers asked for
	AtLeast              // the notes ran out: demand was this much or more
)

// Observed is what one kind of note paid out on one day.
type Observed struct {
	Notes float64 // notes, zero or more; a share of a longer period may be a fraction
	Known Known
}

// History is what one kind of note paid out, day by day without gaps.
type History struct {
	First Day
	Days  []Observed
}

// Next is the first day the history does not cover.
func (h History) Next() Day { return h.First + Day(len(h.Days)) }

// until cuts the history before day.
func (h History) until(day Day) History {
	h.Days = h.Days[:min(max(int(day-h.First), 0), len(h.Days))]
	return h
}

// DaysMax bounds a history, in days: some 54 years.
const DaysMax = 20000

// Sentinels of a history nobody can learn from.
var (
	ErrHistory   = errors.New("history cannot be used")
	ErrNoHistory = errors.New("no day with a figure yet")
)

func (h History) check() error {
	if len(h.Days) > DaysMax {
		return fmt.Errorf("%w: %d days, at most %d", ErrHistory, len(h.Days), DaysMax)
	}
	for i, o := range h.Days {
		switch {
		case o.Known > AtLeast:
			return fmt.Errorf("%w: %s: unknown mark %d", ErrHistory, h.First+Day(i), o.Known)
		case o.Known != Missing && (!(o.Notes >= 0) || math.IsInf(o.Notes, 1)):
			return fmt.Errorf("%w: %s: %v notes", ErrHistory, h.First+Day(i), o.Notes)
		}
	}
	return nil
}

// outageShare: a day below this share of the median day was an outage nobody
// marked. It teaches nothing.
const outageShare = 0.12

// logs is a history on the scale the model works on.
type logs struct {
	first  Day
	values []logged
	full   int // days with full demand known
}

// logged is one day's demand as a logarithm. Known is Missing on an outage.
type logged struct {
	log   float64
	known Known
}

func (l logged) full() bool { return l.known == Full }

// newLogs leaves out unmarked outages. It returns ErrNoHistory when no day is known.
// middle is the median day.
func newLogs(h History, middle float64) (*logs, error) {
	lowest := outageShare * middle
	out := &logs{first: h.First, values: make([]logged, len(h.Days))}
	known := false
	for i, o := range h.Days {
		known = known || o.Known == Full || o.Known == AtLeast && o.Notes > 0
		if o.Known == Missing || o.Notes <= 0 || o.Notes < lowest {
			continue
		}
		out.values[i] = logged{math.Log(o.Notes), o.Known}
		if o.Known == Full {
			out.full++
		}
	}
	if !known {
		return nil, ErrNoHistory
	}
	return out, nil
}

func fullNotes(h History) []float64 {
	var notes []float64
	for _, o := range h.Days {
		if o.Known == Full {
			notes = append(notes, o.Notes)
		}
	}
	return notes
}
