package demand_test

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/demand"
)

// A shop that always loads a hundred notes runs out on busy days. Told so, the
// advice does not take the empty box for low demand.
func TestRanOutIsNotLowDemand(t *testing.T) {
	const loaded = 130.0
	s := cornerShop(200)
	s.noise = 0.3
	run := func(ranOut demand.Known) float64 {
		s.observed = func(_ int, notes float64) demand.Observed {
			if notes >= loaded {
				return demand.Observed{Notes: loaded, Known: ranOut}
			}
			return demand.Observed{Notes: notes, Known: demand.Full}
		}
		day := demand.DayOf(2024, time.July, 26)
		f, err := demand.Advise(s.history(), day, demand.Options{Priors: demand.Shipped()})
		if err != nil {
			t.Fatal(err)
		}
		return f.Mean
	}
	friday := s.usual[time.Friday]
	taken := run(demand.Full)
	told := run(demand.AtLeast)
	if !(told > taken && math.Abs(told-friday) < math.Abs(taken-friday)) {
		t.Errorf("a Friday asks for %v: %v when run-out days are marked, %v when not", friday, told, taken)
	}
}

// A busy day on which the notes ran out still proves that demand was high.
func TestRanOutAboveExpectationTeaches(t *testing.T) {
	s := cornerShop(100)
	h := s.history()
	before := mustAhead(t, mustFit(t, h, demand.Options{}), 2).Mean
	h.Days[98] = demand.Observed{Notes: 2 * h.Days[98].Notes, Known: demand.AtLeast}
	h.Days[99] = demand.Observed{Notes: 2 * h.Days[99].Notes, Known: demand.AtLeast}
	if after := mustAhead(t, mustFit(t, h, demand.Options{}), 2).Mean; after <= before {
		t.Errorf("expected %v after two days that ran out high, %v without them", after, before)
	}
}

// Two weeks out of service, marked or not, leave the forecast where it was.
func TestOutOfServiceTeachesNothing(t *testing.T) {
	for name, out := range map[string]demand.Observed{
		"marked":               {},
		"counted as nothing":   {Known: demand.Full},
		"a few notes got out":  {Notes: 5, Known: demand.Full},
		"ran out after a few":  {Notes: 5, Known: demand.AtLeast},
		"ran out with nothing": {Known: demand.AtLeast},
	} {
		s := cornerShop(200)
		s.observed = func(i int, notes float64) demand.Observed {
			if i >= 180 && i < 194 {
				return out
			}
			return demand.Observed{Notes: notes, Known: demand.Full}
		}
		f := mustAhead(t, mustFit(t, s.history(), demand.Options{}), 1)
		near(t, name, f.Mean, s.notes(f.Day), 0.03*s.notes(f.Day))
	}
}

// A new cassette more than doubles what a note is asked for: told the day, the model follows in
// five days, where an untold one still doubts.
func TestLevelShift(t *testing.T) {
	s := cornerShop(255)
	from := s.first + 250
	s.noise = 0.1
	s.factor = func(day demand.Day) float64 {
		if day >= from {
			return 2.5
		}
		return 1
	}
	told := mustAhead(t, mustFit(t, s.history(), demand.Options{Shifts: []demand.Day{from}}), 14)
	untold := mustAhead(t, mustFit(t, s.history(), demand.Options{}), 14)
	want := s.notes(told.Day)
	near(t, "told", told.Mean, want, 0.15*want)
	if math.Abs(untold.Mean-want) < math.Abs(told.Mean-want) {
		t.Errorf("want %v: untold %v is nearer than told %v", want, untold.Mean, told.Mean)
	}
}

func TestSpreadKeepsEveryNote(t *testing.T) {
	checks.Rapid(t, 300, 10_000, 500_000, func(t *rapid.T) {
		var periods []demand.Period
		total := 0.0
		for range rapid.IntRange(1, 20).Draw(t, "periods") {
			first := demand.Day(rapid.IntRange(20_000, 20_100).Draw(t, "first"))
			p := demand.Period{
				First: first, Last: first + demand.Day(rapid.IntRange(0, demand.PeriodDaysMax-1).Draw(t, "more")),
				Notes: float64(rapid.IntRange(0, 2000).Draw(t, "notes")),
				Known: rapid.SampledFrom([]demand.Known{demand.Full, demand.AtLeast}).Draw(t, "known"),
			}
			periods = append(periods, p)
			total += p.Notes
		}
		h, err := demand.Spread(periods)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, o := range h.Days {
			sum += o.Notes
		}
		if math.Abs(sum-total) > 1e-6 {
			t.Fatalf("%v notes in the periods, %v in the days", total, sum)
		}
	})
}

func TestSpread(t *testing.T) {
	monday := demand.DayOf(2026, time.November, 2)
	h, err := demand.Spread([]demand.Period{
		{monday + 4, monday + 4, 150, demand.Full, nil},     // Friday
		{monday + 5, monday + 5, 50, demand.Full, nil},      // Saturday
		{monday + 11, monday + 12, 100, demand.Full, nil},   // the next Friday and Saturday in one
		{monday + 14, monday + 14, 30, demand.Full, nil},    // emptied at noon
		{monday + 14, monday + 14, 20, demand.AtLeast, nil}, // and run out in the evening
		{monday + 16, monday + 40, 900, demand.Full, nil},   // too long to say anything
	})
	if err != nil {
		t.Fatal(err)
	}
	for day, want := range map[demand.Day]demand.Observed{
		monday + 4:  {Notes: 150, Known: demand.Full},
		monday + 6:  {},
		monday + 11: {Notes: 75, Known: demand.Full},
		monday + 12: {Notes: 25, Known: demand.Full},
		monday + 14: {Notes: 50, Known: demand.AtLeast},
		monday + 20: {},
	} {
		if got := h.Days[day-h.First]; got != want {
			t.Errorf("%s %s: %+v, want %+v", day, day.Weekday(), got, want)
		}
	}
}

// A closed Sunday within a period gets no share of its notes and is no quiet day.
func TestSpreadOverClosedDay(t *testing.T) {
	saturday := demand.DayOf(2026, time.November, 7)
	h, err := demand.Spread([]demand.Period{{
		First: saturday, Last: saturday + 2, Notes: 90, Known: demand.Full, Still: []demand.Day{saturday + 1},
	}})
	if err != nil {
		t.Fatal(err)
	}
	want := []demand.Observed{{Notes: 45, Known: demand.Full}, {}, {Notes: 45, Known: demand.Full}}
	if !slices.Equal(h.Days, want) {
		t.Errorf("got %+v, want %+v", h.Days, want)
	}
}

func TestSpreadErr(t *testing.T) {
	for name, p := range map[string]demand.Period{
		"ends before it starts":  {First: 2, Last: 1},
		"negative":               {Notes: -1, Known: demand.Full},
		"not a number":           {Notes: math.NaN(), Known: demand.Full},
		"unknown mark":           {Known: 7},
		"stood still throughout": {First: 5, Last: 6, Notes: 3, Known: demand.Full, Still: []demand.Day{5, 6}},
	} {
		if _, err := demand.Spread([]demand.Period{p}); !errors.Is(err, demand.ErrHistory) {
			t.Errorf("%s: got %v, want ErrHistory", name, err)
		}
	}
	apart := []demand.Period{{First: 0, Last: 0}, {First: 90_000, Last: 90_000}}
	if _, err := demand.Spread(apart); !errors.Is(err, demand.ErrHistory) {
		t.Errorf("centuries apart: got %v, want ErrHistory", err)
	}
	if h, err := demand.Spread(nil); err != nil || len(h.Days) != 0 {
		t.Errorf("no periods: %+v, %v", h, err)
	}
}

// Doubt must not last: a new level nobody announced is believed within three weeks, however far.
func TestUnannouncedShiftIsBelievedInTheEnd(t *testing.T) {
	for _, times := range []float64{0.15, 3, 10} {
		s := cornerShop(221)
		s.noise = 0.1
		s.factor = func(day demand.Day) float64 {
			if day >= s.first+200 {
				return times
			}
			return 1
		}
		f := mustAhead(t, mustFit(t, s.history(), demand.Options{}), 1)
		want := s.notes(f.Day)
		near(t, "three weeks on", f.Mean, want, 0.2*want)
	}
}

// After a day that ran out of more than was expected the load is larger than the level alone
// asks for, for some days; what is expected stays what it is. One kind of three that ran short counts less.
func TestCautionAfterADayThatRanShort(t *testing.T) {
	s := cornerShop(100)
	h := s.history()
	quantile := func(h demand.History, ahead int, o demand.Options) float64 {
		f := mustAhead(t, mustFit(t, h, o), ahead)
		q, err := f.Quantile(0.95)
		if err != nil {
			t.Fatal(err)
		}
		return math.Log(q / f.Mean)
	}
	plain, far := quantile(h, 1, demand.Options{}), quantile(h, 50, demand.Options{})
	short := h
	short.Days = slices.Clone(h.Days)
	short.Days[99] = demand.Observed{Notes: 1.5 * h.Days[99].Notes, Known: demand.AtLeast}
	own, ownFar := quantile(short, 1, demand.Options{}), quantile(short, 50, demand.Options{})
	kinds, err := demand.Together([]demand.History{h, short, h}, demand.Options{})
	if err != nil {
		t.Fatal(err)
	}
	f := mustAhead(t, kinds[0], 1)
	told := math.Log(mustQuantile(t, f, 0.95) / f.Mean)
	if !(plain < told && told < own) || math.Abs(ownFar-far) > 0.01*far {
		t.Errorf("spreads over the mean: %v, %v after another kind, %v after its own; far ahead %v, %v",
			plain, told, own, far, ownFar)
	}
	// one that empties although less was asked for than usual was loaded too little, not forecast too low
	short.Days[99] = demand.Observed{Notes: h.Days[99].Notes / 3, Known: demand.AtLeast}
	if early := quantile(short, 1, demand.Options{}); early > plain+0.01 {
		t.Errorf("%v over the mean after a day that emptied early, %v else", early, plain)
	}
}

// A payday on which the notes ran out of more than was expected says that paydays are high.
func TestPaydayThatRanOutTeaches(t *testing.T) {
	s := cornerShop(113) // to 29 April 2024, a day before payday
	options := demand.Options{Calendar: demand.NewCalendar(s.first, s.first+200, nil), Priors: demand.Abroad()}
	payday := func(known demand.Known) float64 {
		h := s.history()
		for _, i := range []int{23, 52} { // 31 January and 29 February, of the same kind
			h.Days[i] = demand.Observed{Notes: 1.5 * h.Days[i].Notes, Known: known}
		}
		term, ok := termOf(mustAhead(t, mustFit(t, h, options), 1), demand.Payday)
		if !ok {
			t.Fatal("tomorrow is no payday")
		}
		return term.Factor
	}
	if ranOut, missing := payday(demand.AtLeast), payday(demand.Missing); ranOut < missing+0.1 {
		t.Errorf("paydays are %.2f after two that ran out, %.2f after two nobody counted", ranOut, missing)
	}
}
