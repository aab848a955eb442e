package books_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
)

// kinds lists what takes effect, in order, by number and kind.
func kinds(entries []books.Entry) (list []int64) {
	for _, e := range books.InForce(entries) {
		list = append(list, e.Seq)
	}
	return list
}

// twoDays is day one (1 opening, 2 top-up, 3 count, 4 slip, 5 close) and day two
// (6 opening, 7 top-up, 8 count, 9 slip).
func twoDays(t *testing.T) *ledger {
	l := newLedger(t)
	topup := func(no int64) books.Record {
		return books.Record{Kind: books.TopUp, Period: no, Figures: []books.Figure{fig(books.Added, 2, 10)}}
	}
	for _, r := range []books.Record{
		opening(), topup(1), left(1, 12, 70, 80), paid(1, 28, 90, 120), closing(1, books.Cash),
		opening(), topup(6), left(6, 12, 70, 80), paid(6, 28, 90, 120),
	} {
		l.post(r)
	}
	return l
}

// shifted is a record as it was, in another period.
func (l *ledger) shifted(target, no int64) *books.Record {
	in := l.entries[target-1].Record
	in.Period = no
	return &in
}

// A record that belongs to another day takes effect before that day's count, in
// one that has none yet when it was moved; a slip before its close, and where it
// stood if that day had begun.
func TestWhereMovedRecordsTakeEffect(t *testing.T) {
	for _, c := range []struct {
		name       string
		target, to int64
		want       []int64
	}{
		{"a top-up to a day that is closed", 7, 1, []int64{1, 2, 7, 3, 4, 5, 6, 8, 9}},
		{"a top-up to a day that is counted", 2, 6, []int64{1, 3, 4, 5, 6, 7, 2, 8, 9}},
		{"a slip to a day that is closed", 9, 1, []int64{1, 2, 3, 4, 9, 5, 6, 7, 8}},
		{"a slip to a day that is not closed", 4, 6, []int64{1, 2, 3, 5, 6, 4, 7, 8, 9}},
	} {
		l := twoDays(t)
		if _, err := l.correct(c.target, l.shifted(c.target, c.to)); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := kinds(l.entries); !slices.Equal(got, c.want) {
			t.Errorf("%s: in force %v, want %v", c.name, got, c.want)
		}
		for i, b := range l.m.Recent {
			if b.Seq != int64(i)+1 {
				t.Errorf("%s: history goes %d after %d records", c.name, b.Seq, i)
			}
		}
		l.refold(t)
	}
}

// What came after a record was moved takes effect after it.
func TestMovedBeforeWhatCameLater(t *testing.T) {
	l := twoDays(t)
	if _, err := l.correct(4, l.shifted(4, 6)); err != nil { // 10
		t.Fatal(err)
	}
	l.post(paid(6, 0, 1, 0))       // 11
	l.post(closing(6, books.Cash)) // 12
	l.post(opening())              // 13
	want := []int64{1, 2, 3, 5, 6, 4, 7, 8, 9, 11, 12, 13}
	if got := kinds(l.entries); !slices.Equal(got, want) {
		t.Errorf("in force %v, want %v", got, want)
	}
	l.refold(t)
}

// A day whose count was undone has none: what is moved there takes effect when
// it was moved, not before a count that does not hold.
func TestMovedToADayWhoseCountWasUndone(t *testing.T) {
	l := twoDays(t)
	l.entries = l.entries[:8] // to the count of day two
	undo := books.Entry{Machine: 1, Seq: 9, By: 1,
		Record: books.Record{Kind: books.Undo, Target: 8, Period: 6}}
	l.entries = append(l.entries, undo)
	var err error
	if l.m, err = books.Fold(1, l.entries); err != nil {
		t.Fatal(err)
	}
	if _, err := l.correct(2, l.shifted(2, 6)); err != nil {
		t.Fatal(err)
	}
	if got, want := kinds(l.entries), []int64{1, 3, 4, 5, 6, 7, 2}; !slices.Equal(got, want) {
		t.Errorf("in force %v, want %v", got, want)
	}
	if p := l.m.Period(6); p.Added["20"] != 20 || p.Status != books.Open {
		t.Errorf("day two: added %v, %s", p.Added, p.Status)
	}
	l.refold(t)
}

// A record may be corrected again and again; the last word holds. An undo of
// another record does not stand in the way.
func TestCorrectedAgain(t *testing.T) {
	l := twoDays(t)
	for _, n := range []int64{20, 30, 0} {
		in := l.entries[6].Record
		in.Figures = []books.Figure{fig(books.Added, 2, n)}
		if _, err := l.correct(7, &in); err != nil {
			t.Fatal(err)
		}
		if got := l.m.Period(6).Added["20"]; got != n {
			t.Errorf("added %d, want %d", got, n)
		}
	}
	undo := books.Entry{Machine: 1, Seq: l.m.Seq + 1, By: 1,
		Record: books.Record{Kind: books.Undo, Target: 9, Period: 6}}
	l.entries = append(l.entries, undo)
	var err error
	if l.m, err = books.Fold(1, l.entries); err != nil {
		t.Fatal(err)
	}
	if _, err := l.correct(7, nil); err != nil {
		t.Fatalf("after another record was undone: %v", err)
	}
	if got := kinds(l.entries); !slices.Equal(got, []int64{1, 2, 3, 4, 5, 6, 8}) {
		t.Errorf("in force %v", got)
	}
}

// An undone correction leaves the record as it was.
func TestCorrectionUndone(t *testing.T) {
	l := twoDays(t)
	if _, err := l.correct(7, nil); err != nil {
		t.Fatal(err)
	}
	undo := books.Entry{Machine: 1, Seq: 11, By: 1,
		Record: books.Record{Kind: books.Undo, Target: 10, Period: 6}}
	m, err := books.Fold(1, append(slices.Clip(l.entries), undo))
	if err != nil || m.Period(6).Added["20"] != 10 || m.Recent[6].Corrected != 0 || !m.Recent[9].Void {
		t.Errorf("%v: %+v", err, m.Recent)
	}
}

// What was ticked, shown and counted of a day goes with its opening.
func TestUndoneOpeningTakesItsDayAlong(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Checks, Period: 1, Ticks: []string{"typed"}})
	undo := books.Entry{Machine: 1, Seq: 3, By: 1, Record: books.Record{Kind: books.Undo, Target: 1,
		Period: 1}}
	m, err := books.Fold(1, append(slices.Clip(l.entries), undo))
	if err != nil || m.Open != 0 || len(m.Periods) != 0 || len(m.Balance) != 0 {
		t.Fatalf("%v: open %d, balance %v", err, m.Open, m.Balance)
	}
	if !m.Recent[0].Void || !m.Recent[1].Void {
		t.Errorf("history %+v", m.Recent)
	}
	if _, err := m.Post(books.Entry{Record: opening(), Machine: 1, Seq: 4, By: 1}); err != nil {
		t.Errorf("the next opening: %v", err)
	}
}

// A correction moves just what makes one balance the other, in the order of the
// places' names: each place gets what it lacks from those that have too much.
func TestMovesOfACorrection(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 40, 100, 200, kind(books.Refused, 2, 10), kind(books.FoundAt, 2, 10)))
	in := left(1, 40, 90, 200, kind(books.Refused, 2, 25), kind(books.FoundAt, 2, 15))
	moves, err := l.correct(2, &in)
	if err != nil {
		t.Fatal(err)
	}
	// box 100 -> 90, tray 10 -> 25, path 10 -> 15, gone 30 -> 20.
	want := []books.Move{
		{From: books.BoxPlace(2), To: books.Path, Face: "20", Notes: 5},
		{From: books.BoxPlace(2), To: books.Tray, Face: "20", Notes: 5},
		{From: books.Gone, To: books.Tray, Face: "20", Notes: 10},
	}
	if !slices.Equal(moves, want) {
		t.Errorf("movements %v\nwant      %v", moves, want)
	}
}
