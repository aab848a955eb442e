package advice_test

import (
	"testing"

	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
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
