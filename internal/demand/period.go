package demand

import (
	"fmt"
	"math"
	"slices"
)

// Period is what one kind of note paid out between loading and counting. It may
// last several days, and a day may hold several periods.
type Period struct {
	First, Last Day
	Notes       float64 // paid out, net of reversals; zero or more
	Known       Known
	Still       []Day // days within it on which the machine paid nothing; not all of its days
}

// PeriodDaysMax: a longer period says too little about its days; they count as missing.
const PeriodDaysMax = 14

// Spread makes a day-by-day history of periods in any order. A period over
// several days is shared out by what those weekdays ask for on days that
// have periods of their own; what several periods give one day is added up, and is
// AtLeast the demand unless all of them are Full. Days without a period, and those on
// which the machine stood still, are Missing.
func Spread(periods []Period) (History, error) {
	if len(periods) == 0 {
		return History{}, nil
	}
	first, last := periods[0].First, periods[0].Last
	for _, p := range periods {
		if err := p.check(); err != nil {
			return History{}, err
		}
		first, last = min(first, p.First), max(last, p.Last)
	}
	if last-first >= DaysMax {
		return History{}, fmt.Errorf("%w: %s to %s is more than %d days", ErrHistory, first, last, DaysMax)
	}
	h := History{First: first, Days: make([]Observed, last-first+1)}
	seen := make([]bool, len(h.Days))
	usual := weekdayShares(periods)
	for _, p := range periods {
		h.add(p, usual, seen)
	}
	return h, nil
}

func (p Period) check() error {
	switch {
	case p.Last < p.First:
		return fmt.Errorf("%w: period ends %s before it starts %s", ErrHistory, p.Last, p.First)
	case p.Known > AtLeast:
		return fmt.Errorf("%w: %s: unknown mark %d", ErrHistory, p.First, p.Known)
	case !(p.Notes >= 0) || math.IsInf(p.Notes, 1):
		return fmt.Errorf("%w: %s: %v notes", ErrHistory, p.First, p.Notes)
	}
	if len(p.days()) == 0 {
		return fmt.Errorf("%w: %s: the machine stood still on every day", ErrHistory, p.First)
	}
	return nil
}

// weekdayShares is the mean of single days by weekday; equal where a weekday has none.
func weekdayShares(periods []Period) [7]float64 {
	var sums [7]sample
	var all sample
	for _, p := range periods {
		if p.First == p.Last && p.Known == Full {
			sums[p.First.Weekday()].sum += p.Notes
			sums[p.First.Weekday()].count++
			all.sum += p.Notes
			all.count++
		}
	}
	var usual [7]float64
	for w, s := range sums {
		switch {
		case all.sum == 0:
			usual[w] = 1
		case s.sum == 0:
			usual[w] = all.sum / all.count
		default:
			usual[w] = s.sum / s.count
		}
	}
	return usual
}

// days lists those on which the machine could pay.
func (p Period) days() []Day {
	var list []Day
	for day := p.First; day <= p.Last; day++ {
		if !slices.Contains(p.Still, day) {
			list = append(list, day)
		}
	}
	return list
}

func (h History) add(p Period, usual [7]float64, seen []bool) {
	if p.Known == Missing || p.Last-p.First >= PeriodDaysMax {
		p.Known, p.Notes = Missing, 0
	}
	days, whole := p.days(), 0.0
	for _, day := range days {
		whole += usual[day.Weekday()]
	}
	for _, day := range days {
		i := int(day - h.First)
		o := &h.Days[i]
		o.Notes += p.Notes * usual[day.Weekday()] / whole
		switch {
		case !seen[i]:
			o.Known = p.Known
		case o.Known != p.Known:
			o.Known = AtLeast
		}
		seen[i] = true
	}
}
