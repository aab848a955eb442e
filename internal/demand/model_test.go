package demand_test

import (
	"errors"
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/demand"
)

// A shop that never changes is forecast as it is, by every weekday, near and far.
func TestSteadyShop(t *testing.T) {
	for _, priors := range []*demand.Priors{demand.NoPriors(), demand.Shipped()} {
		s := cornerShop(500)
		m := mustFit(t, s.history(), demand.Options{Priors: priors})
		for ahead := 1; ahead <= demand.AheadMax; ahead++ {
			f := mustAhead(t, m, ahead)
			want := s.notes(f.Day)
			near(t, "expected on "+f.Day.String(), f.Mean, want, 0.03*want)
		}
	}
}

// rare and busy shops of any shape, with gaps and days on which the notes ran out.
func drawHistory(t *rapid.T) demand.History {
	h := demand.History{First: demand.Day(rapid.IntRange(15_000, 25_000).Draw(t, "first"))}
	scale := rapid.SampledFrom([]float64{0.5, 20, 3000}).Draw(t, "scale")
	known := []demand.Known{demand.Full, demand.Full, demand.Full, demand.AtLeast, demand.Missing}
	days := rapid.IntRange(1, 500).Draw(t, "days")
	for range days {
		h.Days = append(h.Days, demand.Observed{
			Notes: math.Floor(scale * rapid.Float64Range(0, 3).Draw(t, "notes")),
			Known: rapid.SampledFrom(known).Draw(t, "known"),
		})
	}
	return h
}

func drawOptions(t *rapid.T, h demand.History, c *demand.Calendar) demand.Options {
	o := demand.Options{Calendar: c}
	if rapid.Bool().Draw(t, "shipped") {
		o.Priors = demand.Shipped()
	}
	if rapid.Bool().Draw(t, "shift") {
		o.Shifts = []demand.Day{h.First + demand.Day(rapid.IntRange(0, len(h.Days)).Draw(t, "shiftDay"))}
	}
	return o
}

// Whatever the history: the terms make the mean, more safety never means fewer notes,
// and nothing is below zero, infinite or not a number.
func TestForecastHoldsTogether(t *testing.T) {
	calendar := england(t, 15_000, 26_000)
	checks.Rapid(t, 100, 5_000, 200_000, func(t *rapid.T) {
		h := drawHistory(t)
		m, err := demand.Fit(h, drawOptions(t, h, calendar))
		if errors.Is(err, demand.ErrNoHistory) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		f, err := m.Ahead(rapid.IntRange(1, demand.AheadMax).Draw(t, "ahead"))
		if err != nil {
			t.Fatal(err)
		}
		product := f.Terms[0].Notes
		for _, term := range f.Terms {
			product *= term.Factor
		}
		if math.Abs(product-f.Mean) > 1e-9*f.Mean {
			t.Fatalf("terms make %v, the mean is %v: %+v", product, f.Mean, f.Terms)
		}
		last := 0.0
		for _, p := range []float64{0.001, 0.05, 0.3, 0.5, 0.8, 0.9, 0.95, 0.98, 0.999} {
			q, err := f.Quantile(p)
			if err != nil || !(q >= last) || math.IsInf(q, 1) {
				t.Fatalf("quantile %v = %v, %v after %v", p, q, err, last)
			}
			last = q
		}
	})
}

// What comes after the day must not matter, nor may the same question get two answers.
func TestAdviseUsesEarlierDaysOnly(t *testing.T) {
	calendar := england(t, 15_000, 26_000)
	checks.Rapid(t, 100, 5_000, 200_000, func(t *rapid.T) {
		h := drawHistory(t)
		o := drawOptions(t, h, calendar)
		day := h.First + demand.Day(rapid.IntRange(1, len(h.Days)).Draw(t, "day"))
		cut := demand.History{First: h.First, Days: h.Days[:day-h.First]}
		with, errWith := demand.Advise(h, day, o)
		without, errWithout := demand.Advise(cut, day, o)
		if !reflect.DeepEqual(with, without) || (errWith == nil) != (errWithout == nil) {
			t.Fatalf("later days changed the advice for %s", day)
		}
		if errWith == nil && with.Day != day {
			t.Fatalf("asked for %s, answered for %s", day, with.Day)
		}
	})
}

// Twice the notes on every day is twice the forecast: the method knows no unit.
func TestUnitDoesNotMatter(t *testing.T) {
	s := cornerShop(200)
	s.noise = 0.3
	double := s
	double.factor = func(demand.Day) float64 { return 2 }
	once := mustAhead(t, mustFit(t, s.history(), demand.Options{}), 5)
	twice := mustAhead(t, mustFit(t, double.history(), demand.Options{}), 5)
	near(t, "mean of twice the demand", twice.Mean, 2*once.Mean, 1e-6)
	near(t, "quantile of twice the demand", mustQuantile(t, twice, 0.95), 2*mustQuantile(t, once, 0.95), 1e-6)
}

func TestThinHistorySaysSo(t *testing.T) {
	for _, c := range []struct {
		days int
		thin bool
	}{{1, true}, {28, true}, {55, true}, {56, false}, {300, false}} {
		f := mustAhead(t, mustFit(t, cornerShop(c.days).history(), demand.Options{Priors: demand.Shipped()}), 1)
		if f.Thin != c.thin || f.KnownDays != c.days {
			t.Errorf("%d days: thin %v of %d known, want %v", c.days, f.Thin, f.KnownDays, c.thin)
		}
	}
}

// With two weeks of a quiet shop the shipped habits already know that Friday is busy.
func TestShippedHabitsHelpAThinShop(t *testing.T) {
	s := cornerShop(10) // Monday to Wednesday of the second week: one Friday seen
	s.noise = 0.25
	friday := demand.DayOf(2024, time.January, 19)
	bare, err := demand.Advise(s.history(), friday, demand.Options{})
	if err != nil {
		t.Fatal(err)
	}
	helped, err := demand.Advise(s.history(), friday, demand.Options{Priors: demand.Shipped()})
	if err != nil {
		t.Fatal(err)
	}
	want := s.notes(friday)
	if math.Abs(helped.Mean-want) >= math.Abs(bare.Mean-want) {
		t.Errorf("Friday asks for %v: %v with shipped habits, %v without", want, helped.Mean, bare.Mean)
	}
}

// A note hardly anybody asks for: the record itself answers.
func TestRareNote(t *testing.T) {
	h := demand.History{First: 20_000}
	for i := range 100 {
		o := demand.Observed{Known: demand.Full}
		if i%10 == 0 {
			o.Notes = float64(i % 7)
		}
		h.Days = append(h.Days, o)
	}
	m := mustFit(t, h, demand.Options{Priors: demand.Shipped()})
	f := mustAhead(t, m, 3)
	near(t, "expected", f.Mean, 0, 0)
	if q := mustQuantile(t, f, 0.99); q < 4 || q > 6 {
		t.Errorf("load for 99 days in 100 = %v, want 4 to 6 as on the record", q)
	}
	week, err := m.Total(1, 7)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "load for a week", mustQuantile(t, week, 0.99), 7*mustQuantile(t, f, 0.99), 1e-9)
}

func TestFitErrors(t *testing.T) {
	full := func(notes float64) demand.History {
		return demand.History{Days: []demand.Observed{{Notes: notes, Known: demand.Full}}}
	}
	long := demand.History{Days: make([]demand.Observed, demand.DaysMax+1)}
	for name, c := range map[string]struct {
		history demand.History
		want    error
	}{
		"ErrNoHistory empty":   {demand.History{}, demand.ErrNoHistory},
		"ErrNoHistory missing": {demand.History{Days: make([]demand.Observed, 9)}, demand.ErrNoHistory},
		"ErrHistory negative":  {full(-1), demand.ErrHistory},
		"ErrHistory NaN":       {full(math.NaN()), demand.ErrHistory},
		"ErrHistory infinite":  {full(math.Inf(1)), demand.ErrHistory},
		"ErrHistory mark":      {demand.History{Days: []demand.Observed{{Known: 9}}}, demand.ErrHistory},
		"ErrHistory too long":  {long, demand.ErrHistory},
	} {
		if _, err := demand.Fit(c.history, demand.Options{}); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestAskedOutOfReach(t *testing.T) {
	m := mustFit(t, cornerShop(60).history(), demand.Options{})
	for _, ahead := range []int{-1, 0, demand.AheadMax + 1} {
		if _, err := m.Ahead(ahead); err == nil {
			t.Errorf("%d days ahead: want an error", ahead)
		}
	}
	for _, days := range [][2]int{{2, 1}, {0, 3}, {50, demand.AheadMax + 1}} {
		if _, err := m.Total(days[0], days[1]); err == nil {
			t.Errorf("total of %v: want an error", days)
		}
	}
	f := mustAhead(t, m, 1)
	for _, p := range []float64{0, 1, -0.1, 1.1, math.NaN()} {
		if _, err := f.Quantile(p); err == nil {
			t.Errorf("quantile %v: want an error", p)
		}
	}
}

// A weekend's total is what its days ask for, and safer than loading each day apart.
func TestTotal(t *testing.T) {
	s := cornerShop(400)
	s.noise = 0.3
	m := mustFit(t, s.history(), demand.Options{})
	mean, apart := 0.0, 0.0
	for ahead := 1; ahead <= 4; ahead++ {
		f := mustAhead(t, m, ahead)
		mean += f.Mean
		apart += mustQuantile(t, f, 0.95)
	}
	total, err := m.Total(1, 4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean of the total", total.Mean, mean, 1e-9)
	if q := mustQuantile(t, total, 0.95); q <= mean || q >= apart {
		t.Errorf("load for four days = %v, want between %v and %v", q, mean, apart)
	}
}

// A closed day between two others asks for nothing: the two alone make the total.
func TestTotalOf(t *testing.T) {
	s := cornerShop(400)
	s.noise = 0.3
	m := mustFit(t, s.history(), demand.Options{})
	apart, err := m.TotalOf([]int{1, 3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", apart.Mean, mustAhead(t, m, 1).Mean+mustAhead(t, m, 3).Mean, 1e-9)
	for _, days := range [][]int{nil, {0}, {demand.AheadMax + 1}} {
		if _, err := m.TotalOf(days); err == nil {
			t.Errorf("days %v: no error", days)
		}
	}
}
