package advice_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/demand"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

func mustFor(t testing.TB, o *advice.Outlook, to shop.Date, hand map[cashmath.Face]int64) advice.Advice {
	t.Helper()
	a, err := o.For(to, hand)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func line(a advice.Advice, face cashmath.Face) advice.Line {
	for _, l := range a.Lines {
		if l.Face == face {
			return l
		}
	}
	return advice.Line{}
}

// After ten weeks of Mondays to Sundays whose demand a test knows, the load for a
// Friday covers the usual 150 with something on top, in round numbers.
func TestFor(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(74) // up to a Thursday
	a := mustFor(t, l.outlook(next), next, nil)
	got := line(a, "20")
	if next.Weekday().String() != "Friday" || got.Notes < 160 || got.Notes > 220 || got.Notes%10 != 0 {
		t.Errorf("load %d twenties for a %s, want 160 to 220 in tens", got.Notes, next.Weekday())
	}
	if got.Cut != "" || got.Notes != got.Enough || a.Thin || a.KnownDays != 74 || a.Share != 0.95 {
		t.Errorf("line %+v of %+v", got, a)
	}
	if q, _ := got.Forecast.Quantile(0.982); float64(got.Notes) < q || float64(got.Notes) > q+10 {
		t.Errorf("load %d for a quantile of %v", got.Notes, q)
	}
}

// A load for several days is for those on which the machine can pay, and less
// than the days' own loads together.
func TestForSeveralDays(t *testing.T) {
	l := newLedger(t, func(s *shop.Settings) { s.Hours[0] = shop.Hours{} })
	next := l.weeks(75) // up to a Friday
	o := l.outlook(next)
	one, three := mustFor(t, o, next, nil), mustFor(t, o, next.Add(2), nil)
	if len(three.Days) != 2 || line(three, "20").Notes <= line(one, "20").Notes {
		t.Errorf("Saturday to Monday: %v, %d twenties", three.Days, line(three, "20").Notes)
	}
	if _, err := o.For(next.Add(demand.AheadMax-1), nil); err != nil {
		t.Errorf("the last day within reach: %v", err)
	}
	if _, err := o.For(next.Add(demand.AheadMax), nil); !errors.Is(err, advice.ErrDays) {
		t.Errorf("a day farther: %v, want ErrDays", err)
	}
}

func TestUntil(t *testing.T) {
	s := newLedger(t, func(s *shop.Settings) { s.Hours[0] = shop.Hours{} }).shop
	if got := advice.Until(s, "2026-01-10"); got != "2026-01-10" {
		t.Errorf("a Saturday's load lasts until %s, want the day itself: nothing is paid on Sunday", got)
	}
	if got := advice.Until(s, "2026-01-11"); got != "2026-01-11" {
		t.Errorf("a load of a closed Sunday lasts until %s, want no day before it", got)
	}
	s.Load.Always = true
	if got := advice.Until(s, "2026-01-10"); got != "2026-01-11" {
		t.Errorf("a Saturday's load of a machine that always pays lasts until %s, want Sunday", got)
	}
}

// Without a day of history the advice is what is usually loaded, and says so.
func TestForNothingKnown(t *testing.T) {
	l := newLedger(t, nil)
	a := mustFor(t, l.outlook("2026-01-05"), "2026-01-05", nil)
	if got := line(a, "20"); got.Known || got.Notes != 150 || !a.Thin || a.KnownDays != 0 {
		t.Errorf("%+v, want the usual 150 and no pretence", got)
	}
	thin := newLedger(t, nil)
	next := thin.weeks(9)
	if a := mustFor(t, thin.outlook(next), next, nil); !a.Thin || a.KnownDays != 9 {
		t.Errorf("nine days: thin %t, known %d", a.Thin, a.KnownDays)
	}
}

// Each cap by itself, and by its name.
func TestForCuts(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*shop.Settings)
		hand   map[cashmath.Face]int64
		notes  int64
		cut    advice.Cut
	}{
		"capacity": {func(s *shop.Settings) { s.Machines[0].Boxes[1].Capacity = 110 }, nil, 93, advice.Capacity},
		"hand":     {nil, map[cashmath.Face]int64{"50": 500, "20": 42, "10": 900}, 42, advice.Hand},
		"bundles":  {func(s *shop.Settings) { s.Load.Whole = true }, nil, 300, ""},
		"part of a bundle": {func(s *shop.Settings) {
			s.Load.Whole = true
			s.Machines[0].Boxes[1].Capacity = 220
		}, nil, 100, advice.Bundle},
	} {
		l := newLedger(t, c.change)
		next := l.weeks(74)
		got := line(mustFor(t, l.outlook(next), next, c.hand), "20")
		if got.Notes != c.notes || got.Cut != c.cut {
			t.Errorf("%s: %d twenties (%q), want %d (%q)", name, got.Notes, got.Cut, c.notes, c.cut)
		}
	}
}

// Fifties that are not at hand are made up for with twenties, worth no less, and with
// tens as far as there are too few twenties; none is made up for twice.
func TestForInstead(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(74)
	o := l.outlook(next)
	free := mustFor(t, o, next, nil)
	fifties, twenties, tens := line(free, "50").Notes, line(free, "20").Notes, line(free, "10").Notes
	lack := fifties - 60
	hand := func(fifties, twenties, tens int64) map[cashmath.Face]int64 {
		return map[cashmath.Face]int64{"50": fifties, "20": twenties, "10": tens}
	}
	for name, c := range map[string]struct {
		hand           map[cashmath.Face]int64
		twenties, tens int64 // instead
		cut            advice.Cut
	}{
		"twenties do":        {hand(60, 2000, 2000), (lack*50 + 19) / 20, 0, advice.Hand},
		"tens do the rest":   {hand(60, twenties+3, 2000), 3, lack*5 - 6, advice.Hand},
		"no twenty is left":  {hand(60, twenties, 2000), 0, lack * 5, advice.Hand},
		"nothing is left":    {hand(60, twenties, tens), 0, 0, advice.Hand},
		"nothing is missing": {hand(fifties, 2000, 2000), 0, 0, ""},
	} {
		a := mustFor(t, o, next, c.hand)
		if got := line(a, "20"); got.Instead != c.twenties || got.Notes != twenties+c.twenties {
			t.Errorf("%s: %d twenties, %d of them instead; want %d", name, got.Notes, got.Instead, c.twenties)
		}
		if got := line(a, "10"); got.Instead != c.tens || got.Notes != tens+c.tens {
			t.Errorf("%s: %d tens, %d of them instead; want %d", name, got.Notes, got.Instead, c.tens)
		}
		if got := line(a, "50"); got.Cut != c.cut || got.Notes != min(fifties, c.hand["50"]) {
			t.Errorf("%s: %d fifties (%q)", name, got.Notes, got.Cut)
		}
	}
}

// Whatever the limit, boxes and cash at hand: never above any of them, and
// a lower limit lowers what is enough of every kind alike.
func TestForKeepsLimits(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(74)
	past := l.past()
	checks.Rapid(t, 100, 5_000, 200_000, func(t *rapid.T) {
		s := l.shop.Settings
		s.Limit = decimal.NewFromInt(rapid.Int64Range(1, 12_000).Draw(t, "limit"))
		s.Load.Whole = rapid.Bool().Draw(t, "whole")
		s.Load.Level = rapid.SampledFrom([]shop.LoadLevel{"", shop.RarelyEmpty, shop.LittleCash}).Draw(t, "level")
		sh, err := shop.New(1, 1, s)
		if err != nil {
			t.Fatal(err)
		}
		var hand map[cashmath.Face]int64
		if rapid.Bool().Draw(t, "typed") {
			hand = notes(rapid.Int64Range(0, 400).Draw(t, "hand"))
		}
		o, err := advice.NewOutlook(sh, sh.Machine(1), past, next)
		if err != nil {
			t.Fatal(err)
		}
		a, err := o.For(next, hand)
		if err != nil {
			t.Fatal(err)
		}
		sum := decimal.Zero
		for _, l := range a.Lines {
			sum = sum.Add(cashmath.Value(l.Face, l.Notes))
			if l.Notes < 0 || hand != nil && l.Notes > hand[l.Face] || s.Load.Whole && l.Notes%100 != 0 {
				t.Fatalf("%d notes of %s, at hand %v", l.Notes, l.Face, hand)
			}
			if l.Notes < l.Enough && l.Cut == "" {
				t.Fatalf("%d of %s instead of %d without a word", l.Notes, l.Face, l.Enough)
			}
		}
		if sum.GreaterThan(s.Limit) || !sum.Equal(a.Value) {
			t.Fatalf("worth %s, said %s, limit %s", sum, a.Value, s.Limit)
		}
	})
}

// The wetsuit example of Cachon and Terwiesch, Matching Supply with Demand: loss of 80
// for each one missed over cost of 20 for each left gives 0.80; and problem 12.1 d of
// the 3rd edition: 8 and 4 give 0.6667 (sources in testdata/demand/newsvendor.csv).
func TestShare(t *testing.T) {
	for _, c := range []struct {
		load shop.Load
		want float64
	}{
		{shop.Load{}, 0.95},
		{shop.Load{Level: shop.RarelyEmpty}, 0.98},
		{shop.Load{Level: shop.LittleCash}, 0.90},
		{shop.Load{Level: shop.ByCosts, Missed: decimal.NewFromInt(80), Idle: decimal.NewFromInt(20)}, 0.80},
		{shop.Load{Level: shop.ByCosts, Missed: decimal.NewFromInt(8), Idle: decimal.NewFromInt(4)}, 2.0 / 3},
		{shop.Load{Level: shop.ByCosts, Missed: decimal.NewFromInt(9_999), Idle: decimal.NewFromInt(1)}, 0.995},
	} {
		got, err := advice.Share(c.load)
		if err != nil || got < c.want-1e-9 || got > c.want+1e-9 {
			t.Errorf("%+v: %v, %v; want %v", c.load, got, err, c.want)
		}
	}
	if _, err := advice.Share(shop.Load{Level: shop.ByCosts}); !errors.Is(err, demand.ErrCosts) {
		t.Errorf("no costs: %v, want ErrCosts", err)
	}
	if _, err := advice.Share(shop.Load{Level: "brim"}); err == nil {
		t.Error("an unknown level is taken")
	}
}

// Round numbers are easier to count out: fives up to a hundred, tens above, never fewer
// than it takes. Nothing is known here, so it takes what is usually loaded.
func TestRoundNumbers(t *testing.T) {
	for usual, want := range map[int64]int64{
		0: 0, 1: 5, 5: 5, 7: 10, 96: 100, 100: 100, 101: 110, 110: 110, 111: 120, 149: 150, 150: 150,
	} {
		l := newLedger(t, func(s *shop.Settings) { s.Machines[0].Boxes[1].Usual = usual })
		a := mustFor(t, l.outlook("2026-01-05"), "2026-01-05", nil)
		if got := line(a, "20"); got.Notes != want || got.Enough != want || got.Cut != "" {
			t.Errorf("%d: %+v, want %d", usual, got, want)
		}
	}
	whole := newLedger(t, func(s *shop.Settings) { s.Load.Whole, s.Bundles = true, nil })
	if got := line(mustFor(t, whole.outlook("2026-01-05"), "2026-01-05", nil), "20"); got.Notes != 150 {
		t.Errorf("whole bundles of nobody knows how many notes: %+v, want 150", got)
	}
	two := newLedger(t, func(s *shop.Settings) { s.Machines[0].Boxes[0].Face = "20" })
	if got := line(mustFor(t, two.outlook("2026-01-05"), "2026-01-05", nil), "20"); got.Notes != 190 {
		t.Errorf("two boxes of twenties: %+v, want the usual 40 and 150", got)
	}
}

// Kinds of which nothing is known shrink alike until they keep the limit, in round numbers;
// what shrinks says so, and a kind that is not loaded at all does not.
func TestLimitOfTheUsual(t *testing.T) {
	for _, c := range []struct {
		limit, fifties     int64
		want               [3]int64
		cutFifties, others advice.Cut
	}{
		{7_000, 40, [3]int64{40, 150, 200}, "", ""}, // 2,000 and 3,000 and 2,000
		{6_999, 40, [3]int64{35, 140, 190}, advice.Limit, advice.Limit},
		{3_500, 40, [3]int64{20, 75, 100}, advice.Limit, advice.Limit},
		{2_500, 0, [3]int64{0, 75, 100}, "", advice.Limit},
		{10, 40, [3]int64{0, 0, 0}, advice.Limit, advice.Limit},
	} {
		l := newLedger(t, func(s *shop.Settings) {
			s.Limit, s.Machines[0].Boxes[0].Usual = decimal.NewFromInt(c.limit), c.fifties
		})
		a := mustFor(t, l.outlook("2026-01-05"), "2026-01-05", nil)
		for i, x := range a.Lines {
			cut := c.others
			if i == 0 {
				cut = c.cutFifties
			}
			if x.Notes != c.want[i] || x.Cut != cut {
				t.Errorf("limit %d: %d %ss (%q), want %d (%q)", c.limit, x.Notes, x.Face, x.Cut, c.want[i], cut)
			}
		}
	}
}

// When most kinds ran short the others are loaded more generously the day after, too: what
// brought more customers for those brings them for all. One alone says little of the others.
func TestOtherKindsRanShort(t *testing.T) {
	load := func(short ...cashmath.Face) int64 {
		l := newLedger(t, nil)
		next := l.weeks(74)
		want := notes(twenties(next, 74))
		put := notes(200)
		for _, face := range short {
			want[face] = 2 * put[face]
		}
		l.run(day{Date: next, Loaded: put, Asked: want})
		next = next.Add(1)
		return line(mustFor(t, l.outlook(next), next, nil), "10").Enough
	}
	usual, one, two := load(), load("20"), load("20", "50")
	if two <= usual || one > two {
		t.Errorf("%d tens after a day without twenties and fifties, %d without twenties, %d else", two, one, usual)
	}
}

// A load cut by half on a day from seven to nine is out about half way, at the pace of a
// usual day; one that was not cut, or is enough for a usual day, is not said to be.
func TestForEmpty(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(74)
	o := l.outlook(next)
	day := reminders.On(l.shop, next)
	for name, part := range map[string]float64{"a half": 0.5, "a tenth": 0.1, "all that is expected": 1.05} {
		mean := line(mustFor(t, o, next, nil), "20").Forecast.Mean
		hand := map[cashmath.Face]int64{"50": 900, "20": int64(part * mean), "10": 900}
		a := mustFor(t, o, next, hand)
		got, fifties := line(a, "20"), line(a, "50")
		want := day.Open.Add(time.Duration(float64(got.Notes) / mean * float64(day.Close.Sub(day.Open))))
		if part > 1 {
			want = time.Time{}
		}
		if !got.Empty.Equal(want) || !fifties.Empty.IsZero() || got.Cut != advice.Hand {
			t.Errorf("%s: %+v, want it empty at %v; fifties %v", name, got, want, fifties.Empty)
		}
		if share := got.Empty.Sub(day.Open).Hours() / day.Close.Sub(day.Open).Hours(); part < 1 &&
			math.Abs(share-part) > 0.02 {
			t.Errorf("%s: out after %.2f of the day", name, share)
		}
	}
}
