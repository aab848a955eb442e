package books_test

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// ledger writes entries one after the other.
type ledger struct {
	t       testing.TB
	m       *books.Machine
	entries []books.Entry
	unruled bool // records are written as before they said a rule
}

func newLedger(t testing.TB) *ledger { return &ledger{t: t, m: books.New(1)} }

func (l *ledger) post(r books.Record) []books.Move {
	l.t.Helper()
	moves, err := l.try(r)
	if err != nil {
		l.t.Fatalf("%s: %v", r.Kind, err)
	}
	return moves
}

func (l *ledger) try(r books.Record) ([]books.Move, error) {
	at := time.Date(2026, 11, 25, 7, len(l.entries), 0, 0, time.UTC)
	r.Happened = at
	if !l.unruled {
		r = books.Ruled(r)
	}
	e := books.Entry{Record: r, Machine: 1, Seq: int64(len(l.entries)) + 1, By: 1, Settings: 1, Recorded: at}
	m := l.m.Clone()
	moves, err := m.Post(e)
	if err != nil {
		return nil, err
	}
	l.m, l.entries = m, append(l.entries, e)
	return moves, nil
}

func fig(f books.Field, box int, notes int64) books.Figure {
	faces := map[int]string{1: "50", 2: "20", 3: "10"}
	r := books.Figure{Field: f, Box: box, Notes: notes}
	_ = r.Face.UnmarshalText([]byte(faces[box]))
	return r
}

func kind(f books.Field, box int, notes int64) books.Figure {
	r := fig(f, box, notes)
	r.Box = 0
	return r
}

func opening() books.Record {
	return books.Record{Kind: books.Opening, Figures: []books.Figure{
		fig(books.Loaded, 1, 40), fig(books.Loaded, 2, 150), fig(books.Loaded, 3, 200)}}
}

// TestDay follows the equation of a day by hand, per kind of note:
// expected = loaded + top-ups - removed - dispensed + reversed + test notes
// (common practice, no source; the arithmetic of each figure stands beside it).
func TestDay(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.TopUp, Period: 1, Figures: []books.Figure{fig(books.Added, 2, 50)}})
	l.post(books.Record{Kind: books.Moved, Period: 1, Reason: books.Change,
		Moves: []books.Move{books.NewMove(books.BoxPlace(2), books.Till, "20", 5)}})
	l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Tray, Marks: []books.Mark{books.Counted},
		Figures: []books.Figure{fig(books.Tried, 2, 1)}})
	// 20s: 150 + 50 - 5 - 130 + 2 + 1 = 68 should be inside; 60 left + 4 in the tray + 2 found = 66.
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{
		fig(books.Remaining, 1, 12), fig(books.Remaining, 2, 60), fig(books.Remaining, 3, 80),
		kind(books.Refused, 2, 4), kind(books.FoundAt, 2, 2)}})
	l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{
		kind(books.PaidOut, 1, 28), kind(books.PaidOut, 2, 130), kind(books.PaidOut, 3, 120),
		kind(books.Cancelled, 2, 2)}})
	// 28 x 50 + 130 x 20 + 120 x 10 = 5,200, less 2 x 20 cancelled and 1 x 20 tried: 5,140 are due.
	if c := l.m.Claim(6); c == nil || !c.Value.Equal(decimal.NewFromInt(5140)) {
		t.Errorf("claim %+v, want 5,140", c)
	}
	l.post(books.Record{Kind: books.Close, Period: 1, Where: books.Cash})

	p := l.m.Period(1)
	if p.Status != books.Closed || p.Verdict != "short" || !p.Variance.Equal(decimal.NewFromInt(-40)) {
		t.Fatalf("verdict %s, variance %s, want short, -40", p.Verdict, p.Variance)
	}
	want := books.Balance{
		// in: 2 x 20 found + 4 x 20 tray + 60, less 150 + 50 loaded
		books.Cash:      {"50": 12 - 40, "20": 66 - 200, "10": 80 - 200},
		books.Till:      {"20": 5},
		books.Customers: {"50": 28, "20": 130 - 2 - 1, "10": 120},
		books.OverShort: {"20": 2},
	}
	if !reflect.DeepEqual(l.m.Balance, want) {
		t.Fatalf("balance %v\nwant    %v", l.m.Balance, want)
	}
	if owed := l.m.Owed(); !owed.Equal(decimal.NewFromInt(100)) {
		t.Fatalf("owed %s, want 100", owed)
	}
	l.post(books.Record{Kind: books.Moved, Reason: books.Returned,
		Moves: []books.Move{books.NewMove(books.Till, books.Cash, "10", 4)}})
	if owed := l.m.Owed(); !owed.Equal(decimal.NewFromInt(60)) {
		t.Fatalf("owed %s after 40 came back, want 60", owed)
	}
}

// More paid out than was put in is recorded; the surplus comes from the
// difference, never from a box below nothing.
func TestPaidMoreThanLoaded(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{
		fig(books.Remaining, 1, 0), fig(books.Remaining, 2, 0), fig(books.Remaining, 3, 0)}})
	l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{
		kind(books.PaidOut, 1, 40), kind(books.PaidOut, 2, 170), kind(books.PaidOut, 3, 200)}})
	l.post(books.Record{Kind: books.Close, Period: 1, Where: books.Cash})
	if p := l.m.Period(1); p.Verdict != "over" || !p.Variance.Equal(decimal.NewFromInt(400)) {
		t.Fatalf("verdict %s %s, want over 400", p.Verdict, p.Variance)
	}
	if got := l.m.Balance.At(books.OverShort, "20"); got != -20 {
		t.Fatalf("over/short holds %d twenties, want -20", got)
	}
}

// Notes that stay in belong to the next period; only the difference moves.
func TestNotesStayIn(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{
		fig(books.Remaining, 1, 12), fig(books.Remaining, 2, 60), fig(books.Remaining, 3, 80)}})
	l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{
		kind(books.PaidOut, 1, 28), kind(books.PaidOut, 2, 90), kind(books.PaidOut, 3, 120)}})
	l.post(books.Record{Kind: books.Close, Period: 1})
	next := opening()
	next.Figures[2].Notes = 70 // ten tens were taken out
	got := l.post(next)
	want := []books.Move{
		{From: books.Cash, To: books.BoxPlace(1), Face: "50", Notes: 28},
		{From: books.Cash, To: books.BoxPlace(2), Face: "20", Notes: 90},
		{From: books.BoxPlace(3), To: books.Cash, Face: "10", Notes: 10},
	}
	if !reflect.DeepEqual(got, want) {
		t.Fatalf("movements %v\nwant      %v", got, want)
	}
}

// Undone entries leave no trace in what is inside, and stay in the history.
func TestFoldLeavesOutWhatIsUndone(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	before := l.m.Balance.Clone()
	moves := l.post(books.Record{Kind: books.TopUp, Period: 1, Figures: []books.Figure{fig(books.Added, 2,
		50)}})
	undo := books.Entry{Record: books.Record{Kind: books.Undo, Period: 1, Target: 2}, Machine: 1, Seq: 3,
		By: 1}
	m, err := books.Fold(1, append(l.entries, undo))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(m.Balance, before) {
		t.Fatalf("balance %v, want %v", m.Balance, before)
	}
	if len(m.Recent) != 3 || !m.Recent[1].Void || m.Seq != 3 {
		t.Fatalf("history %+v", m.Recent)
	}
	if err := l.m.Balance.Apply(books.Reverse(moves)); err != nil || !reflect.DeepEqual(l.m.Balance, before) {
		t.Fatalf("reversed movements give %v, %v", l.m.Balance, err)
	}
	if m.Period(1).Held()["20"] != 150 {
		t.Fatalf("held %v", m.Period(1).Held())
	}
}

// The books survive being stored as JSON.
func TestMachineIsStored(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Level, Period: 1, Figures: []books.Figure{fig(books.Shown, 2, 100)}})
	data, err := json.Marshal(l.m)
	if err != nil {
		t.Fatal(err)
	}
	var back *books.Machine
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(back)
	if string(again) != string(data) {
		t.Fatalf("%s\n%s", data, again)
	}
}
