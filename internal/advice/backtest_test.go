package advice_test

import (
	"testing"

	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// A shop that loads 200 twenties every day of its life never runs out and has much
// left; the advice leaves less; last week's number runs out every other day.
func TestBacktest(t *testing.T) {
	l := newLedger(t, nil)
	l.weeks(120)
	got := tested(t, l, 56)
	if got.Loaded.Days != 56 || got.Advised.Days != 56 || got.Weekly.Days != 56 ||
		got.From.String() != "2026-03-10" {
		t.Errorf("%+v, want 56 days each", got)
	}
	if got.Loaded.RanOut != 0 || got.Advised.RanOut > 6 || got.Weekly.RanOut < 20 {
		t.Errorf("ran out: loaded %d, advised %d, weekly %d",
			got.Loaded.RanOut, got.Advised.RanOut, got.Weekly.RanOut)
	}
	if got.Advised.Left() >= got.Loaded.Left() {
		t.Errorf("left: advised %d, loaded %d", got.Advised.Left(), got.Loaded.Left())
	}
}

func tested(t *testing.T, l *ledger, days int) advice.Tested {
	t.Helper()
	list, err := advice.Backtest(l.shop, l.kit(), l.past(), days)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range list {
		if x.Face == "20" {
			return x
		}
	}
	t.Fatal("no twenties")
	return advice.Tested{}
}

// A day that ran out in truth counts as run out for whoever loaded no more, and as
// unknown for whoever would have loaded more.
func TestBacktestCensored(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(28)
	l.run(day{Date: next, Loaded: map[cashmath.Face]int64{"20": 40}, Asked: notes(300)})
	got := tested(t, l, 1)
	if got.Loaded.RanOut != 1 || got.Loaded.Over != 0 {
		t.Errorf("loaded %+v, want run out and nothing left over", got.Loaded)
	}
	if got.Advised.Open != 1 || got.Advised.Days != 0 || got.Weekly.Open != 1 {
		t.Errorf("advised %+v, weekly %+v, want both open", got.Advised, got.Weekly)
	}
}

// Nothing is judged without two weeks of figures before it.
func TestBacktestTooYoung(t *testing.T) {
	l := newLedger(t, nil)
	l.weeks(14)
	if got := tested(t, l, 56); got.Loaded.Days != 0 || got.Loaded.Left() != 0 {
		t.Errorf("%+v", got)
	}
}

// steady runs weeks in which every day of a week asks for the same, each of 200 twenties.
func steady(t *testing.T, change func(*shop.Settings), weekly ...int64) *ledger {
	t.Helper()
	l := newLedger(t, change)
	first := shop.Date("2026-01-05")
	for week, asked := range weekly {
		for d := range 7 {
			l.run(day{Date: first.Add(7*week + d), Loaded: notes(200), Asked: notes(asked)})
		}
	}
	return l
}

// Last week's number runs out where more is asked for than last week, by known figures;
// is just enough where it is the same; and leaves over what last week asked for more.
func TestBacktestByHand(t *testing.T) {
	got := tested(t, steady(t, nil, 100, 100, 100, 120, 110, 110), 28)
	want := advice.Tally{Days: 28, RanOut: 7, Over: 28, Idle: 7 * 10}
	if got.Weekly != want {
		t.Errorf("weekly %+v, want %+v", got.Weekly, want)
	}
	loaded := advice.Tally{Days: 28, Over: 28, Idle: 7 * (100 + 80 + 90 + 90)}
	if got.Loaded != loaded || got.From.String() != "2026-01-19" || got.To.String() != "2026-02-15" {
		t.Errorf("loaded %+v from %s to %s, want %+v", got.Loaded, got.From, got.To, loaded)
	}
	if one := tested(t, steady(t, nil, 100, 100, 100, 120), 1); one.Weekly.Days != 1 || one.From != one.To {
		t.Errorf("one day back: %+v", one)
	}
	l := newLedger(t, nil)
	l.weeks(15) // the fifteenth day has two weeks before it
	if got := tested(t, l, 56); got.Loaded.Days != 1 || got.From.String() != "2026-01-19" {
		t.Errorf("after two weeks and a day: %+v", got)
	}
}

// Whole bundles leave what they are more than single notes would be; where nobody said how
// many a bundle holds, single notes are loaded.
func TestBacktestBundles(t *testing.T) {
	whole := func(bundles []shop.FaceNotes) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Load.Whole, s.Bundles = true, bundles }
	}
	weeks := []int64{101, 101, 101, 101}
	hundreds := tested(t, steady(t, whole([]shop.FaceNotes{{Face: "20", Notes: 100}}), weeks...), 7)
	if got := hundreds.Advised; got.Days != 7 || got.RanOut != 0 || (got.Idle+7*101)%100 != 0 {
		t.Errorf("hundreds: %+v, want what is put in to be whole ones", got)
	}
	single, known := tested(t, steady(t, whole(nil), weeks...), 7), tested(t, steady(t, nil, weeks...), 7)
	if single.Advised != known.Advised || single.Advised.Idle >= hundreds.Advised.Idle {
		t.Errorf("bundles of nobody knows how many: %+v, single notes %+v", single.Advised, known.Advised)
	}
}

func TestLeft(t *testing.T) {
	for tally, want := range map[advice.Tally]int64{
		{}: 0, {Over: 3, Idle: 10}: 3, {Over: 3, Idle: 11}: 4, {Over: 2, Idle: 5}: 3, {Over: 1, Idle: 7}: 7,
		{Days: 9, Over: 4, Idle: 100}: 25,
	} {
		if got := tally.Left(); got != want {
			t.Errorf("%+v: %d left over a day, want %d", tally, got, want)
		}
	}
}
