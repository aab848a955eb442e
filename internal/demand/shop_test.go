package demand_test

import (
	"math"
	"time"

	"shopfloat/internal/demand"
)

// shop is an invented shop whose demand follows rules that a test knows.
type shop struct {
	first    demand.Day
	days     int
	usual    [7]float64                   // notes by weekday, Sunday first
	factor   func(day demand.Day) float64 // nil: 1
	noise    float64                      // largest log deviation of a day
	observed func(i int, notes float64) demand.Observed
}

// cornerShop sells most on Fridays and Saturdays.
func cornerShop(days int) shop {
	return shop{
		first: demand.DayOf(2024, time.January, 8), days: days,
		usual: [7]float64{80, 90, 90, 100, 110, 150, 140},
	}
}

func (s shop) notes(day demand.Day) float64 {
	notes := s.usual[day.Weekday()]
	if s.factor != nil {
		notes *= s.factor(day)
	}
	return notes
}

// history adds noise that looks random, is the same every time and has no memory.
func (s shop) history() demand.History {
	h := demand.History{First: s.first, Days: make([]demand.Observed, s.days)}
	for i := range h.Days {
		_, part := math.Modf(float64(i+1) * math.Phi * 17)
		notes := s.notes(s.first+demand.Day(i)) * math.Exp(s.noise*(2*part-1))
		h.Days[i] = demand.Observed{Notes: notes, Known: demand.Full}
		if s.observed != nil {
			h.Days[i] = s.observed(i, notes)
		}
	}
	return h
}
