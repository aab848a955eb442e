package demand

import (
	"errors"
	"fmt"
	"math"
)

// Numbers of the forecast; VALIDATION.md says how they were chosen.
const (
	thinDays = 56    // fewer days than this are a thin history
	widenFar = 0.006 // growth of the surprise's variance with each day ahead
	lift     = 0.004 // a usual day lies this much above the learned level, in log units
	liftFar  = 0.01  // and this much more beyond the first day
	together = 0.28  // by which power of the days the spread of their total shrinks
)

// Forecast of one kind of note for one day, in notes.
type Forecast struct {
	Day       Day
	Mean      float64 // the point: a median, which is best for SMAPE
	Terms     []Term  // why: the first is the usual level, the others are factors
	KnownDays int     // days of own history it rests on
	Thin      bool    // too few of them to trust the quantiles without doubt

	spread   float64
	short    float64 // spreads by which high quantiles lie above the curve
	surprise curve
	rare     []float64
}

// Quantile is the load that is enough on the share p of such days, 0 < p < 1.
func (f Forecast) Quantile(p float64) (float64, error) {
	if !(p > 0 && p < 1) {
		return 0, fmt.Errorf("share %v: want more than 0 and less than 1", p)
	}
	if f.rare != nil {
		return SampleQuantile(f.rare, p), nil
	}
	return f.Mean * math.Exp(f.spread*(f.surprise.at(p)+f.short*max(0, 2*p-1))), nil
}

// Advise forecasts one day, 1 to AheadMax days after the last day of the history
// that lies before it; days on and after it are not used.
func Advise(h History, day Day, o Options) (Forecast, error) {
	h = h.until(day)
	m, err := Fit(h, o)
	if err != nil {
		return Forecast{}, err
	}
	return m.Ahead(int(day-h.Next()) + 1)
}

// Ahead forecasts the day so many days after the history, 1 to AheadMax.
func (m *Model) Ahead(days int) (Forecast, error) {
	if days < 1 || days > AheadMax {
		return Forecast{}, fmt.Errorf("%d days ahead: want 1 to %d", days, AheadMax)
	}
	f := Forecast{
		Day: m.first + Day(m.days-1+days), KnownDays: m.full, Thin: m.full < thinDays,
		rare: m.rare, surprise: m.surprise,
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
	w := int(f.Day.Weekday())
	f.spread = m.evening.spread(w) * m.evening.wide(w) * m.widen * math.Sqrt(1+widenFar*float64(days-1))
	f.spread = math.Sqrt(f.spread*f.spread + m.doubt(f.Day))
	f.short = m.evening.more() * math.Pow(shortKeep, float64(days-1))
	return f, nil
}

// scaled takes every day of a rare note as if it came again each day: more than
// enough, for want of a better rule.
func scaled(notes []float64, days float64) []float64 {
	out := make([]float64, len(notes))
	for i, v := range notes {
		out[i] = v * days
	}
	return out
}

// Total forecasts what the days from first to last ahead ask for together, 1 <= first
// <= last <= AheadMax: what a load must last for when nobody can top up in between.
// Its Day is the last one and it has no terms of its own.
func (m *Model) Total(first, last int) (Forecast, error) {
	if first > last {
		return Forecast{}, fmt.Errorf("days %d to %d ahead: want them in order", first, last)
	}
	days := make([]int, 0, last-first+1)
	for ahead := first; ahead <= last; ahead++ {
		days = append(days, ahead)
	}
	return m.TotalOf(days)
}

// TotalOf is Total for days that need not follow each other: those ahead, each from
// 1 to AheadMax, at least one, in order.
func (m *Model) TotalOf(aheads []int) (Forecast, error) {
	if len(aheads) == 0 {
		return Forecast{}, errors.New("no days ahead")
	}
	total, weighted := Forecast{}, 0.0
	for _, ahead := range aheads {
		day, err := m.Ahead(ahead)
		if err != nil {
			return Forecast{}, err
		}
		weighted += day.Mean * day.spread
		day.Mean, day.Terms = day.Mean+total.Mean, nil
		total = day
	}
	days := float64(len(aheads))
	if m.rare != nil {
		total.rare = scaled(m.rare, days)
		return total, nil
	}
	total.spread = weighted / total.Mean * math.Pow(days, -together)
	return total, nil
}
