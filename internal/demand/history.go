package demand

import (
	"errors"
	"fmt"
	"math"
)

// Known says how much a day's figure tells about demand.
type Known uint8

// The zero value teaches nothing: no figure, machine out of service, or closed.
const (
	Missing Known = iota // no figure, or the machine was out of service
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

// DaysMax bounds a history: some 27 years.
const DaysMax = 10000

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
		case o.Known != Missing && !(o.Notes >= 0 && !math.IsInf(o.Notes, 1)):
			return fmt.Errorf("%w: %s: %v notes", ErrHistory, h.First+Day(i), o.Notes)
		}
	}
	return nil
}
