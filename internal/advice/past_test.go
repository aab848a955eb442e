package advice_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

func observed(h demand.History, date string) demand.Observed {
	d, err := demand.ParseDay(date)
	if err != nil || d < h.First || d >= h.Next() {
		return demand.Observed{Notes: -1}
	}
	return h.Days[d-h.First]
}

// What the ledger says of each day, worked out by hand.
func TestLearn(t *testing.T) {
	l := newLedger(t, nil)
	l.run(day{Date: "2026-01-05", Loaded: notes(200), Asked: notes(120)})
	l.run(day{Date: "2026-01-06", Loaded: notes(100), Asked: notes(130)})                   // runs out of all
	l.run(day{Date: "2026-01-08", To: "2026-01-09", Loaded: notes(400), Asked: notes(300)}) // two days in one
	paid := l.past().Paid
	for _, c := range []struct {
		face cashmath.Face
		date string
		want demand.Observed
	}{
		{"20", "2026-01-05", demand.Observed{Notes: 120, Known: demand.Full}},
		{"50", "2026-01-05", demand.Observed{Notes: 60, Known: demand.Full}},
		{"20", "2026-01-06", demand.Observed{Notes: 100, Known: demand.AtLeast}},
		{"20", "2026-01-07", demand.Observed{}},
		{"20", "2026-01-08", demand.Observed{Notes: 150, Known: demand.Full}},
		{"20", "2026-01-09", demand.Observed{Notes: 150, Known: demand.Full}},
	} {
		if got := observed(paid[c.face], c.date); got != c.want {
			t.Errorf("%ss on %s: %+v, want %+v", c.face, c.date, got, c.want)
		}
	}
}

// A closed Sunday inside a period is no quiet day, unless the machine pays while
// the shop is closed.
func TestLearnClosedDay(t *testing.T) {
	for _, always := range []bool{false, true} {
		l := newLedger(t, func(s *shop.Settings) { s.Hours[0], s.Load.Always = shop.Hours{}, always })
		l.run(day{Date: "2026-01-10", To: "2026-01-12", Loaded: notes(400), Asked: notes(300)})
		h := l.past().Paid["20"]
		want := demand.Observed{}
		if always {
			want = demand.Observed{Notes: 100, Known: demand.Full}
		}
		if got := observed(h, "2026-01-11"); got != want {
			t.Errorf("always %t: Sunday %+v, want %+v", always, got, want)
		}
	}
}

// An empty box seen at a level check means the kind ran out, whatever was added later;
// a machine emptied early because of a warning tells only the least.
func TestLearnCensored(t *testing.T) {
	for name, during := range map[string]books.Record{
		"level": {Kind: books.Level, Figures: []books.Figure{{Field: books.Shown, Box: 2, Face: "20", Notes: 0}}},
		"warning": {Kind: books.Moved, Reason: books.Warning,
			Moves: []books.Move{books.NewMove(books.BoxPlace(2), books.Cash, "20", 10)}},
	} {
		l := newLedger(t, nil)
		l.run(day{Date: "2026-01-05", Loaded: notes(200), Asked: notes(120)})
		during.Period = 1
		during.Happened = l.at("2026-01-05", 15, 0)
		first := append([]books.Entry{}, l.entries[0])
		rest := l.entries[1:]
		l.entries = first
		l.post(during.Happened, during)
		for _, e := range rest {
			l.post(e.Happened, e.Record)
		}
		if got := observed(l.past().Paid["20"], "2026-01-05"); got.Known != demand.AtLeast {
			t.Errorf("%s: %+v, want at least", name, got)
		}
	}
}

// Another order of boxes is a new level from that day on.
func TestLearnShift(t *testing.T) {
	l := newLedger(t, nil)
	l.weeks(7)
	l.shop.Machines[0].Boxes = l.shop.Machines[0].Boxes[1:] // the fifties go
	for i := range l.shop.Machines[0].Boxes {
		l.shop.Machines[0].Boxes[i].Position = i + 1
	}
	l.run(day{Date: "2026-01-12", Loaded: notes(200), Asked: notes(120)})
	l.run(day{Date: "2026-01-13", Loaded: notes(200), Asked: notes(120)})
	shifts := l.past().Shifts
	if len(shifts) != 1 || shifts[0].String() != "2026-01-12" {
		t.Errorf("shifts %v, want one on 2026-01-12", shifts)
	}
}

// Slips that tell money only leave what is gone from the boxes.
func TestLearnMoneyOnly(t *testing.T) {
	l := newLedger(t, nil)
	l.run(day{Date: "2026-01-05", Loaded: notes(200), Asked: notes(120)})
	for i := range l.entries {
		if r := &l.entries[i].Record; r.Kind == books.Settlement {
			r.Figures, r.Amounts = nil, []books.Amount{{Field: books.PaidOut}}
		}
	}
	if got := observed(l.past().Paid["20"], "2026-01-05"); got.Notes != 120 {
		t.Errorf("twenties %+v, want 120", got)
	}
}

// What the tills bring is learned from moves; what is undone does not count.
func TestTakings(t *testing.T) {
	l := newLedger(t, nil)
	l.weeks(10)
	bring := func(notes int64) int64 {
		return l.post(l.at("2026-01-14", 22, 0), books.Record{Kind: books.Moved, Reason: books.Other,
			Moves: []books.Move{books.NewMove(books.Till, books.Cash, "20", notes)}})
	}
	bring(250)
	l.post(l.at("2026-01-14", 22, 1), books.Record{Kind: books.Moved, Reason: books.Change,
		Moves: []books.Move{books.NewMove(books.Cash, books.Till, "20", 50)}})
	wrong := bring(5000)
	l.post(l.at("2026-01-14", 22, 5), books.Record{Kind: books.Undo, Target: wrong})
	l.post(l.at("2026-01-14", 22, 6), books.Record{Kind: books.Correction, Target: bring(3000)})
	if got := l.past().Takings; got["20"] != 20 || got["50"] != 0 {
		t.Errorf("takings %v, want 20 twenties a day", got)
	}
}

// A shop that trades on a holiday all the same has that day's figures on that day
// (26 October 2026 is the October holiday in Ireland, last Monday of the month).
func TestLearnHoliday(t *testing.T) {
	l := newLedger(t, nil)
	l.run(day{Date: "2026-10-26", Loaded: notes(200), Asked: notes(90)})
	l.run(day{Date: "2026-10-27", Loaded: notes(200), Asked: notes(110)})
	paid := l.past().Paid["20"]
	for date, want := range map[string]float64{"2026-10-26": 90, "2026-10-27": 110} {
		if got := observed(paid, date); got.Notes != want || got.Known != demand.Full {
			t.Errorf("%s: %+v, want %v", date, got, want)
		}
	}
}

// What was loaded the evening before, or counted the morning after, belongs to the
// day of trading.
func TestLearnEveningAndMorning(t *testing.T) {
	l := newLedger(t, nil)
	l.run(day{Date: "2026-01-06", Loaded: notes(200), Asked: notes(90)})
	l.entries[0].Happened = l.at("2026-01-05", 22, 0)
	for i := 1; i < 4; i++ {
		l.entries[i].Happened = l.at("2026-01-07", 6, 30+i)
	}
	h := l.past().Paid["20"]
	if got := observed(h, "2026-01-06"); len(h.Days) != 1 || got.Notes != 90 {
		t.Errorf("%d days, %+v; want 90 on the 6th alone", len(h.Days), got)
	}
}
