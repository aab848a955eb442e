package books_test

import (
	"encoding/json"
	"slices"
	"testing"

	"shopfloat/internal/books"
)

// written is a machine as it is stored.
func written(t failer, m *books.Machine) string {
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(data)
}

// What is open, what was last and what waits, over two days and one from paper.
func TestWhichPeriod(t *testing.T) {
	l := newLedger(t)
	if l.m.Current() != nil || l.m.Last() != nil || l.m.Pending() != nil || l.m.Period(0) != nil {
		t.Fatal("books without an entry have a period")
	}
	no := func(p *books.Period) int64 {
		if p == nil {
			return 0
		}
		return p.No
	}
	pending := func() (list []int64) {
		for _, p := range l.m.Pending() {
			list = append(list, p.No)
		}
		return list
	}
	for i, step := range []struct {
		record        books.Record
		current, last int64
		pending       []int64
	}{
		{opening(), 1, 0, nil},
		{left(1, 12, 60, 80), 0, 1, []int64{1}},
		{opening(), 3, 1, []int64{1}},
		{onPaper(), 3, 4, []int64{1}},
		{left(3, 12, 60, 80), 0, 4, []int64{1, 3}},
		{closing(1, books.Cash), 0, 4, []int64{3}},
		{closing(3, books.Cash), 0, 4, nil},
	} {
		l.post(step.record)
		if no(l.m.Current()) != step.current || no(l.m.Last()) != step.last || !slices.Equal(pending(),
			step.pending) {
			t.Errorf("step %d: open %d, last %d, waiting %v; want %+v", i, no(l.m.Current()), no(l.m.Last()),
				pending(), step)
		}
	}
	if p := l.m.Period(3); p.Unfinished() || !l.m.Period(4).Unfinished() {
		t.Error("what is finished is mixed up")
	}
}

// The last two closed periods are at hand, and every one that is not finished.
func TestPeriodsAtHand(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80)) // waits all the time
	want := []int64{1}
	for range 4 {
		want = append(want, l.sold(1, 2, 3)-2)
	}
	var got []int64
	for _, p := range l.m.Periods {
		got = append(got, p.No)
	}
	if want = append(want[:1], want[3:]...); !slices.Equal(got, want) {
		t.Errorf("at hand %v, want %v", got, want)
	}
	none := newLedger(t)
	for range 4 {
		none.sold(1, 2, 3)
	}
	if len(none.m.Periods) != 2 || none.m.Periods[0].No != 9 {
		t.Errorf("nothing is open, and %d are at hand from %d on", len(none.m.Periods), none.m.Periods[0].No)
	}
	all, err := books.History(1, l.entries)
	if err != nil || len(all.Periods) != 5 || len(all.Recent) != len(l.entries) {
		t.Errorf("looking back: %v, %d periods, %d records", err, len(all.Periods), len(all.Recent))
	}
	l.refold(t)
}

// History shows the last twenty records.
func TestHistoryIsBounded(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	for n := range 25 {
		l.post(books.Record{Kind: books.Attachment, Target: 1})
		if want := min(n+2, 20); len(l.m.Recent) != want || l.m.Recent[want-1].Seq != l.m.Seq {
			t.Fatalf("%d records shown after %d", len(l.m.Recent), n+2)
		}
	}
	if l.m.Recent[0].Seq != 7 {
		t.Errorf("the oldest shown is %d, want 7 of 26", l.m.Recent[0].Seq)
	}
}

// A line of history names its period: an opening begins one, what is of none has none.
func TestHistoryNamesThePeriod(t *testing.T) {
	l := newLedger(t)
	l.post(begun("offline"))
	l.post(opening())
	l.post(left(2, 40, 150, 200))
	l.post(credit(5, part(books.Fee, 0, 5)))
	for i, want := range []int64{0, 2, 2, 0} {
		if b := l.m.Recent[i]; b.Period != want {
			t.Errorf("%s stands under period %d, want %d", b.Kind, b.Period, want)
		}
	}
}

// The usual load is the median of the last ten openings: of an even number, the
// higher of the two in the middle.
func TestUsual(t *testing.T) {
	load := func(twenties ...int64) *books.Machine {
		l := newLedger(t)
		for _, n := range twenties {
			r := opening()
			r.Figures[1].Notes = n
			l.post(r)
			l.post(left(l.m.Open, 40, n, 200))
		}
		return l.m
	}
	for _, c := range []struct {
		loads           []int64
		notes, openings int64
	}{
		{nil, 0, 0}, {[]int64{150}, 150, 1}, {[]int64{150, 90}, 150, 2}, {[]int64{150, 90, 120}, 120, 3},
		{[]int64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 6, 10},
		{[]int64{900, 900, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 6, 10}, // the two oldest are forgotten
	} {
		notes, openings := load(c.loads...).Usual(2, "20")
		if notes != c.notes || int64(openings) != c.openings {
			t.Errorf("%v: %d of %d openings, want %d of %d", c.loads, notes, openings, c.notes, c.openings)
		}
	}
	m := load(150)
	if n, of := m.Usual(2, "50"); n != 0 || of != 0 {
		t.Errorf("fifties in the box of twenties: %d of %d", n, of)
	}
	if n, of := m.Usual(1, "20"); n != 0 || of != 0 {
		t.Errorf("twenties in the box of fifties: %d of %d", n, of)
	}
}

// What is posted on a copy never shows in the first, whatever it is.
func TestCloneStandsAlone(t *testing.T) {
	l := newLedger(t)
	sold := l.sold(10, 20, 30)
	l.post(credit(90, part(books.Extra, 0, 90)))
	l.post(begun("offline"))
	l.post(books.Record{Kind: books.VisitBegun})
	l.post(opening())
	no := l.m.Open
	l.post(between(no, books.Change, books.BoxPlace(2), books.Till, 5))
	visit := no - 1
	more := []books.Record{
		{Kind: books.TopUp, Period: no, Figures: []books.Figure{fig(books.Added, 2, 5)}},
		between(no, books.Change, books.BoxPlace(2), books.Till, 1), between(no, books.Returned, books.Till,
			books.Cash, 1),
		{Kind: books.Test, Period: no, Where: books.Tray, Marks: []books.Mark{books.Counted},
			Figures: []books.Figure{fig(books.Tried, 2, 1)}},
		{Kind: books.Found, Period: no, Where: books.Path, Figures: []books.Figure{kind(books.FoundAt, 1, 1)}},
		{Kind: books.Level, Period: no, Figures: []books.Figure{fig(books.Shown, 1, 4)}},
		{Kind: books.Checks, Period: no, Ticks: []string{"typed"}},
		credit(1200, part(books.Pays, sold, 1200)), debit(90, part(books.Extra, sold+2, -90)),
		news(visit-1, books.Trouble{Ending: books.Solved}), {Kind: books.VisitEnded, Target: visit},
		begun("power"),
		left(no, 1, 2, 3, kind(books.Refused, 1, 1)), paid(no, 1, 2, 3), closing(no, books.Cash), opening(),
	}
	for _, r := range more {
		before := written(t, l.m)
		copied := l.branch()
		copied.post(r)
		if after := written(t, l.m); after != before {
			t.Fatalf("%s on a copy changes the first:\n%s\n%s", r.Kind, before, after)
		}
		mine := written(t, copied.m)
		if mine == before {
			t.Fatalf("%s changes nothing", r.Kind)
		}
		l.branch().post(alike(r))
		if after := written(t, copied.m); after != mine {
			t.Fatalf("%s on another copy changes the first copy:\n%s\n%s", r.Kind, mine, after)
		}
		l.post(r)
	}
}

// alike is a record like another, with a note more everywhere.
func alike(r books.Record) books.Record {
	r.Figures, r.Moves = slices.Clone(r.Figures), slices.Clone(r.Moves)
	for i := range r.Figures {
		r.Figures[i].Notes++
	}
	for i := range r.Moves {
		r.Moves[i].Notes++
	}
	return r
}

// The eleventh opening drops the oldest of the usual loads on its own copy only.
func TestUsualLoadsOfACopy(t *testing.T) {
	l := newLedger(t)
	for n := range int64(10) {
		l.post(books.Record{Kind: books.Opening, Figures: []books.Figure{fig(books.Loaded, 2, n)}})
		l.post(books.Record{Kind: books.Count, Period: l.m.Open, Figures: []books.Figure{fig(books.Remaining,
			2, n)}})
	}
	before := written(t, l.m)
	l.branch().post(opening())
	if after := written(t, l.m); after != before {
		t.Errorf("before\n%s\nafter\n%s", before, after)
	}
}

// Two copies that go on apart never write into each other's lists, however long
// those are.
func TestCopiesGoOnApart(t *testing.T) {
	finding := books.Record{Kind: books.Found, Period: 1, Where: books.Path,
		Figures: []books.Figure{kind(books.FoundAt, 1, 1)}}
	level := books.Record{Kind: books.Level, Period: 1, Figures: []books.Figure{fig(books.Shown, 1, 4)}}
	for _, r := range []books.Record{
		between(1, books.Change, books.BoxPlace(2), books.Till, 1), finding, level, paid(1, 0, 1, 0),
	} {
		l := newLedger(t)
		l.post(opening())
		for range 7 {
			l.post(r)
			one := l.branch()
			one.post(r)
			before := written(t, one.m)
			l.branch().post(alike(r))
			if after := written(t, one.m); after != before {
				t.Fatalf("%s: one copy writes into another:\n%s\n%s", r.Kind, before, after)
			}
		}
	}
}
