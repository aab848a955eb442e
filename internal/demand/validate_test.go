package demand_test

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"shopfloat/internal/demand"
	"shopfloat/internal/demand/holidays"
	"shopfloat/internal/demand/wide"
)

// dataVariable names the open data file; see VALIDATION.md. Without it the validation is skipped.
const dataVariable = "SHOPFLOAT_DEMAND_DATA"

func openData(t *testing.T) (wide.Table, *demand.Calendar) {
	t.Helper()
	name := os.Getenv(dataVariable)
	if name == "" {
		t.Skip("set " + dataVariable + " to the open data file to run the validation")
	}
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	table, err := wide.Read(file)
	if err != nil {
		t.Fatal(err)
	}
	table.First++ // the labels are one day early
	days, err := holidays.Of("GB", 1995, 1999)
	if err != nil {
		t.Fatal(err)
	}
	return table, demand.NewCalendar(table.First, table.Last()+demand.AheadMax, days)
}

func historyOf(table wide.Table, values []float64) demand.History {
	h := demand.History{First: table.First, Days: make([]demand.Observed, len(values))}
	for i, v := range values {
		if !math.IsNaN(v) {
			h.Days[i] = demand.Observed{Notes: v, Known: demand.Full}
		}
	}
	return h
}

var levels = []float64{0.5, 0.9, 0.95, 0.98}

type scores struct {
	far, farMASE, near, nearMASE float64
	pin, out, farPin, farOut     [4]float64
	tot                          [4]float64
}

func (s scores) String() string {
	return fmt.Sprintf("far %.3f (%.4f) near %.3f (%.4f) pin %.3f out %.2f farpin %.3f farout %.2f", s.far, s.farMASE, s.near, s.nearMASE, s.pin, s.out, s.farPin, s.farOut)
}

func smape(a, f float64) float64 {
	if a == 0 && f == 0 {
		return 0
	}
	return 200 * math.Abs(f-a) / (a + f)
}

func TestQuick(t *testing.T) {
	table, cal := openData(t)
	var origins []int
	switch os.Getenv("W") {
	case "5":
		origins = []int{455, 511, 567, 623, 679}
	case "T":
		origins = []int{735}
	default:
		for o := 399; o <= 679; o += 28 {
			origins = append(origins, o)
		}
		origins = append(origins, 343, 371)
	}
	cut, _ := strconv.Atoi(os.Getenv("CUT"))
	for _, pooled := range []bool{false, true} {
		var s scores
		n := 0.0
		for _, o := range origins {
			priors := demand.NoPriors()
			if pooled {
				var hs []demand.History
				for _, x := range table.Series {
					hs = append(hs, historyOf(table, x.Values[:o]))
				}
				var err error
				if priors, err = demand.PoolPriors(hs, cal); err != nil {
					t.Fatal(err)
				}
			}
			for _, x := range table.Series {
				s.add(table, x.Values, o, cut, demand.Options{Calendar: cal, Priors: priors})
				n++
			}
		}
		s.far /= n
		s.near /= n
		s.farMASE /= n
		s.nearMASE /= n
		for i := range s.pin {
			s.pin[i] /= n
			s.out[i] /= n
			s.farPin[i] /= n
			s.farOut[i] /= n
		}
		fmt.Println(pooled, s)
	}
}

func cutHistory(h demand.History, cut int) demand.History {
	if cut > 0 {
		k := len(h.Days) - cut
		h.Days = h.Days[k:]
		h.First += demand.Day(k)
	}
	return h
}

func (s *scores) add(table wide.Table, v []float64, o, cut int, opt demand.Options) {
	scale, sn := 0.0, 0.0
	for j := 7; j < o; j++ {
		if d := math.Abs(v[j] - v[j-7]); !math.IsNaN(d) {
			scale += d
			sn++
		}
	}
	scale /= sn
	mean, mn := 0.0, 0.0
	for k := range 56 {
		if y := v[o+k]; !math.IsNaN(y) {
			mean += y
			mn++
		}
	}
	mean /= mn
	full := historyOf(table, v)
	upto := func(n int) demand.History {
		h := full
		h.Days = h.Days[:n]
		return cutHistory(h, cut)
	}
	m, err := demand.Fit(upto(o), opt)
	if err != nil {
		panic(err)
	}
	for k := range 56 {
		y := v[o+k]
		if math.IsNaN(y) {
			continue
		}
		f, _ := m.Ahead(k + 1)
		s.far += smape(y, f.Mean) / mn
		s.farMASE += math.Abs(y-f.Mean) / scale / mn
		pins(f, y, mean, mn, &s.farPin, &s.farOut)
		if os.Getenv("FAST") != "" {
			continue
		}
		near, err := demand.Advise(upto(o+k), table.First+demand.Day(o+k), opt)
		if err != nil {
			panic(err)
		}
		s.near += smape(y, near.Mean) / mn
		s.nearMASE += math.Abs(y-near.Mean) / scale / mn
		pins(near, y, mean, mn, &s.pin, &s.out)
	}
}

func pins(f demand.Forecast, y, mean, n float64, pin, out *[4]float64) {
	for i, p := range levels {
		q, _ := f.Quantile(p)
		if y > q {
			out[i] += 100 / n
			pin[i] += 100 * p * (y - q) / mean / n
		} else {
			pin[i] += 100 * (1 - p) * (q - y) / mean / n
		}
	}
}
