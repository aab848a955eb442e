package demand

import (
	"fmt"
	"math"
	"slices"
)

type Options struct {
	Calendar  *Calendar
	Priors    *Priors
	Quantiles []float64
}

type Forecast struct {
	Day       Day
	Mean      float64
	Quantiles []float64
}

type Model struct {
	f    *fit
	n    int
	z    []float64
	zero bool
}

const AheadMax = 56

func Fit(h History, o Options) (*Model, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	t := localTuning()
	pri := noPriors()
	if o.Calendar == nil {
		o.Calendar = NewCalendar(h.First, h.First, nil)
	}
	v := make([]float64, len(h.Days))
	k := 0
	pos := false
	for i, d := range h.Days {
		v[i] = math.NaN()
		if d.Known == Full {
			v[i] = d.Notes
			k++
			pos = pos || d.Notes > 0
		}
	}
	if k == 0 {
		return nil, ErrNoHistory
	}
	m := &Model{n: len(v), zero: !pos}
	if m.zero {
		m.z = make([]float64, len(o.Quantiles))
		return m, nil
	}
	m.f = newFit(o.Calendar, h.First, logsOf(v, &t), &t, pri, AheadMax)
	r := m.f.resid
	r = append([]float64(nil), r[max(0, len(r)-500):]...)
	slices.Sort(r)
	for _, p := range o.Quantiles {
		m.z = append(m.z, quantile(r, p))
	}
	return m, nil
}

func (m *Model) Ahead(h int) (Forecast, error) {
	if h < 1 || h > AheadMax {
		return Forecast{}, fmt.Errorf("%d days ahead: want 1 to %d", h, AheadMax)
	}
	if m.zero {
		return Forecast{Quantiles: m.z}, nil
	}
	p, s := m.f.at(m.n, h)
	out := Forecast{Day: m.f.first + Day(m.n-1+h), Mean: math.Exp(p)}
	for _, z := range m.z {
		out.Quantiles = append(out.Quantiles, math.Exp(p+m.f.t.widen*s*z))
	}
	return out, nil
}

func quantile(r []float64, p float64) float64 {
	if len(r) == 0 {
		return 0
	}
	x := p*float64(len(r)) - 0.5
	if x <= 0 {
		return r[0]
	}
	i := int(x)
	if i >= len(r)-1 {
		return r[len(r)-1]
	}
	return r[i] + (x-float64(i))*(r[i+1]-r[i])
}

func logsOf(v []float64, t *tuning) []float64 {
	m := append([]float64(nil), v...)
	var k []float64
	for _, x := range m {
		if !math.IsNaN(x) {
			k = append(k, x)
		}
	}
	lim := t.outage * median(k)
	for i, x := range m {
		if x < lim || x <= 0 {
			m[i] = math.NaN()
		} else {
			m[i] = math.Log(x)
		}
	}
	return m
}
