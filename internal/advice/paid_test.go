package advice_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

// busy is a day of twenties on which everything happens: 200 are loaded, 30 topped up, 7
// taken out, 2 paid out in a test, 112 paid out with these, 5 of them cancelled. Customers
// got 105. Of the 118 left 3 are found on their way and 9 lie with the refused ones.
func busy(l *ledger, date shop.Date, settle bool) {
	box := func(f books.Field, n int64) []books.Figure {
		list := []books.Figure{{Field: f, Box: 2, Face: "20", Notes: n}}
		if f == books.Loaded || f == books.Added || f == books.Remaining {
			none := int64(0)
			if f != books.Added {
				none = 50
			}
			list = append(list, books.Figure{Field: f, Box: 1, Face: "50", Notes: none},
				books.Figure{Field: f, Box: 3, Face: "10", Notes: none})
		}
		return list
	}
	whole := func(f books.Field, n int64) books.Figure { return books.Figure{Field: f, Face: "20", Notes: n} }
	no := l.post(l.at(date, 6, 45), books.Record{Kind: books.Opening, Figures: box(books.Loaded, 200)})
	l.post(l.at(date, 7, 0), books.Record{Kind: books.Test, Period: no, Where: books.Tray,
		Marks: []books.Mark{books.Counted}, Figures: box(books.Tried, 2)})
	l.post(l.at(date, 12, 0), books.Record{Kind: books.TopUp, Period: no, Figures: box(books.Added, 30)})
	l.post(l.at(date, 13, 0), books.Record{Kind: books.Moved, Period: no, Reason: books.Change,
		Moves: []books.Move{books.NewMove(books.BoxPlace(2), books.Cash, "20", 7)}})
	l.post(l.at(date, 21, 5), books.Record{Kind: books.Count, Period: no,
		Figures: append(box(books.Remaining, 106), whole(books.Refused, 9), whole(books.FoundAt, 3))})
	r := books.Record{Kind: books.Settlement, Period: no, Due: decimal.Zero,
		Figures: []books.Figure{whole(books.PaidOut, 112), whole(books.Cancelled, 5)}}
	if settle {
		l.post(l.at(date, 21, 10), r)
	}
	end := books.Record{Kind: books.Close, Period: no, Where: books.Cash}
	if !settle {
		end.Marks = []books.Mark{books.Unsettled}
	}
	l.post(l.at(date, 21, 15), end)
}

// What customers got is the same by the slips and, where there are none, by what is gone from
// the boxes; what was put in for a day is what was taken out again less.
func TestPaidOnABusyDay(t *testing.T) {
	for _, settle := range []bool{true, false} {
		l := newLedger(t, nil)
		busy(l, "2026-01-05", settle)
		paid := l.past().Paid
		for face, want := range map[cashmath.Face]float64{"20": 105, "50": 0, "10": 0} {
			if got := observed(paid[face], "2026-01-05"); got != (demand.Observed{Notes: want, Known: demand.Full}) {
				t.Errorf("slips %t: %ss %+v, want %v", settle, face, got, want)
			}
		}
	}
	l := newLedger(t, nil)
	next := l.weeks(20)
	busy(l, next, true)
	if got := tested(t, l, 1).Loaded; got != (advice.Tally{Days: 1, Over: 1, Idle: 223 - 105}) {
		t.Errorf("put in: %+v, want 223 for 105", got)
	}
}

// A kind has run out when all of its boxes are empty, not one of two.
func TestRanOutOfTwoBoxes(t *testing.T) {
	for left, want := range map[int64]demand.Known{0: demand.AtLeast, 1: demand.Full} {
		l := newLedger(t, func(s *shop.Settings) { s.Machines[0].Boxes[0].Face = "20" })
		figures := func(f books.Field, first, second int64) []books.Figure {
			return []books.Figure{{Field: f, Box: 1, Face: "20", Notes: first},
				{Field: f, Box: 2, Face: "20", Notes: second}, {Field: f, Box: 3, Face: "10", Notes: 50}}
		}
		no := l.post(l.at("2026-01-05", 6, 45), books.Record{Kind: books.Opening,
			Figures: figures(books.Loaded, 40, 60)})
		l.post(l.at("2026-01-05", 21, 5), books.Record{Kind: books.Count, Period: no,
			Figures: figures(books.Remaining, left, 0)})
		l.post(l.at("2026-01-05", 21, 10), books.Record{Kind: books.Settlement, Period: no, Due: decimal.Zero,
			Figures: []books.Figure{{Field: books.PaidOut, Face: "20", Notes: 100 - left}}})
		l.post(l.at("2026-01-05", 21, 15), books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		got := observed(l.past().Paid["20"], "2026-01-05")
		if got != (demand.Observed{Notes: float64(100 - left), Known: want}) {
			t.Errorf("%d left in one of two boxes: %+v, want known %d", left, got, want)
		}
		if got := observed(l.past().Paid["10"], "2026-01-05"); got.Known != demand.Full {
			t.Errorf("tens: %+v", got)
		}
	}
}

// The day after the last one of a ledger; none of an empty one.
func TestPastNext(t *testing.T) {
	l := newLedger(t, nil)
	if got := l.past().Next(); got != "" {
		t.Errorf("after nothing comes %q", got)
	}
	if want, got := l.weeks(3), l.past().Next(); got != want {
		t.Errorf("after three days comes %q, want %q", got, want)
	}
}

// An outage that nobody has ended lasts until the ledger's end.
func TestOutageWithoutEnd(t *testing.T) {
	for hour, want := range map[int]demand.Known{7: demand.Missing, 18: demand.AtLeast} {
		l := newLedger(t, nil)
		l.run(day{Date: "2026-01-05", Loaded: notes(200), Asked: notes(50)})
		last := l.entries[1:]
		l.entries = l.entries[:1:1]
		out := l.at("2026-01-05", hour, 0)
		no := l.post(out, books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "offline"}})
		l.post(out, books.Record{Kind: books.News, Target: no,
			Trouble: &books.Trouble{Ending: books.OutOfService, Out: out}})
		for _, e := range last {
			l.post(e.Happened, e.Record)
		}
		if got := observed(l.past().Paid["20"], "2026-01-05"); got.Known != want {
			t.Errorf("out from %d:00 on: %+v, want known %d", hour, got, want)
		}
	}
}

// A level check that finds a kind empty half way through the day says that twice as many were
// asked for, at least; not where it was filled up again, and not for the kinds that lasted.
func TestPaidWhereItRanOutEarly(t *testing.T) {
	for name, c := range map[string]struct {
		hour   int
		added  int64
		twenty float64
	}{
		"at the end":         {21, 0, 100},
		"half way":           {14, 0, 200},
		"after an hour":      {8, 0, 200}, // twice, not fourteen times
		"filled up after it": {14, 40, 140},
	} {
		l := newLedger(t, nil)
		box := func(f books.Field, fifties, twenties, tens int64) []books.Figure {
			return []books.Figure{{Field: f, Box: 1, Face: "50", Notes: fifties},
				{Field: f, Box: 2, Face: "20", Notes: twenties}, {Field: f, Box: 3, Face: "10", Notes: tens}}
		}
		no := l.post(l.at("2026-01-05", 6, 45), books.Record{Kind: books.Opening,
			Figures: box(books.Loaded, 40, 100, 100)})
		l.post(l.at("2026-01-05", c.hour, 0), books.Record{Kind: books.Level, Period: no,
			Figures: box(books.Shown, 30, 0, 50)})
		if c.added > 0 {
			l.post(l.at("2026-01-05", c.hour, 30), books.Record{Kind: books.TopUp, Period: no,
				Figures: []books.Figure{{Field: books.Added, Box: 2, Face: "20", Notes: c.added}}})
		}
		l.post(l.at("2026-01-05", 21, 5), books.Record{Kind: books.Count, Period: no,
			Figures: box(books.Remaining, 20, 0, 40)})
		paid := []books.Figure{{Field: books.PaidOut, Face: "50", Notes: 20},
			{Field: books.PaidOut, Face: "20", Notes: 100 + c.added}, {Field: books.PaidOut, Face: "10", Notes: 60}}
		l.post(l.at("2026-01-05", 21, 10), books.Record{Kind: books.Settlement, Period: no,
			Figures: paid, Due: decimal.Zero})
		l.post(l.at("2026-01-05", 21, 15), books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		past := l.past().Paid
		want := demand.Observed{Notes: c.twenty, Known: demand.AtLeast}
		if got := observed(past["20"], "2026-01-05"); got != want {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
		if got := observed(past["10"], "2026-01-05"); got != (demand.Observed{Notes: 60, Known: demand.Full}) {
			t.Errorf("%s: tens %+v", name, got)
		}
	}
}
