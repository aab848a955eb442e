package demand

import (
	"fmt"
	"math"
)

// Forecast of one kind of note for one day, in notes.
type Forecast struct {
	Day       Day
	Mean      float64 // the point: a median, which is best for SMAPE
	Terms     []Term  // why: the first is the usual level, the others are factors
	KnownDays int     // days of own history it rests on
	Thin      bool    // too few of them to trust the quantiles without doubt

	spread   float64
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
	return f.Mean * math.Exp(f.spread*f.surprise.at(p)), nil
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
