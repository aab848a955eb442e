package advice_test

import (
	"testing"

	"shopfloat/internal/advice"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

// The picture has 35 days back and 7 ahead of each kind: what was paid is the history's, what
// is expected the forecast's, and the advice stands at its one day.
func TestPanels(t *testing.T) {
	l := newLedger(t, func(s *shop.Settings) { s.Hours[0], s.Load.Level = shop.Hours{}, shop.LittleCash })
	next := l.weeks(13) // up to Saturday, 17 January 2026; nobody trades on Sunday
	l.run(day{Date: next.Add(1), Loaded: map[cashmath.Face]int64{"20": 40}, Asked: notes(300)})
	o := l.outlook(next.Add(2)) // a Tuesday
	from := next.Add(2)
	a := mustFor(t, o, from, nil)
	first, panels := o.Panels(a)
	if first != from.Add(-35) || len(panels) != 3 {
		t.Fatalf("%d panels from %s", len(panels), first)
	}
	p, paid := panels[1], l.past().Paid["20"]
	if len(p.Past) != 35 || len(p.Ahead) != 7 {
		t.Fatalf("%d days back, %d ahead", len(p.Past), len(p.Ahead))
	}
	for i, was := range p.Past {
		date := first.Add(i)
		want := advice.Was{}
		if seen := observed(paid, string(date)); seen.Notes >= 0 {
			want.Paid, want.Known, want.Least = seen.Notes, seen.Known != demand.Missing, seen.Known == demand.AtLeast
		}
		if was != want || was.Least != (date == next.Add(1)) {
			t.Errorf("%s: %+v, want %+v", date, was, want)
		}
	}
	for i, c := range p.Ahead {
		date := from.Add(i)
		f, _ := o.Of("20", []demand.Day{demand.DayOf(date.Time().Date())})
		low, _ := f.Quantile(0.10)
		high, _ := f.Quantile(0.90)
		want := advice.Coming{Mean: f.Mean, Low: low, High: high}
		if i == 0 {
			want.Load = line(a, "20").Notes
		}
		if date.Weekday() == 0 {
			want = advice.Coming{Off: true}
		}
		if c != want {
			t.Errorf("%s: %+v, want %+v", date, c, want)
		}
	}
	_, several := o.Panels(mustFor(t, o, from.Add(1), nil))
	for _, c := range several[1].Ahead {
		if c.Load != 0 {
			t.Errorf("a load for two days stands at one of them: %+v", c)
		}
	}
}

// A load for a day beyond the picture stands nowhere in it, and days after the last one of
// the ledger have no figure.
func TestPanelsBeyond(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(20).Add(2)
	l.shop.Plan.Changes = []shop.Change{{From: next, To: next.Add(6), Off: true}}
	o := l.outlook(next)
	a := mustFor(t, o, next.Add(7), nil)
	_, panels := o.Panels(a)
	if len(a.Days) != 1 || len(panels[1].Ahead) != 7 {
		t.Fatalf("%d days to load for, %d in the picture", len(a.Days), len(panels[1].Ahead))
	}
	if past := panels[1].Past; !past[32].Known || past[33] != (advice.Was{}) || past[34] != (advice.Was{}) {
		t.Errorf("the last three days: %+v", past[32:])
	}
	for _, c := range panels[1].Ahead {
		if c != (advice.Coming{Off: true}) {
			t.Errorf("on a day on which nobody comes: %+v", c)
		}
	}
}
