package books_test

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
)

// correct writes a correction; an error leaves the ledger as it was.
func (l *ledger) correct(target int64, in *books.Record) ([]books.Move, error) {
	at := time.Date(2026, 11, 25, 7, len(l.entries), 0, 0, time.UTC)
	e := books.Entry{
		Record: books.Record{Kind: books.Correction, Target: target, Instead: in,
			Reason: books.Mistyped, Happened: at},
		Machine: 1, Seq: l.m.Seq + 1, By: 1, Settings: 1, Recorded: at,
	}
	if !l.unruled {
		e.Record = books.Ruled(e.Record)
	}
	m, moves, err := l.m.CorrectOn(books.New(l.m.ID), l.entries, e)
	if err != nil {
		return nil, err
	}
	balance := l.m.Balance.Clone()
	if err := balance.Apply(moves); err != nil {
		return nil, err
	}
	if !reflect.DeepEqual(balance, m.Balance) {
		l.t.Errorf("the movements of a correction lead to %v, the books say %v", balance, m.Balance)
	}
	l.m, l.entries = m, append(l.entries, e)
	return moves, nil
}

type failer interface{ Fatalf(string, ...any) }

// refold checks that the fold over all entries, read back from JSON, gives the
// books at hand.
func (l *ledger) refold(t failer) {
	read := make([]books.Entry, len(l.entries))
	for i, e := range l.entries {
		body, err := json.Marshal(e.Record)
		if err != nil {
			t.Fatalf("%v", err)
		}
		read[i] = e
		read[i].Record = books.Record{}
		if err := json.Unmarshal(body, &read[i].Record); err != nil {
			t.Fatalf("%v", err)
		}
	}
	m, err := books.Fold(1, read)
	if err != nil {
		t.Fatalf("fold: %v", err)
	}
	got, _ := json.Marshal(m)
	want, _ := json.Marshal(l.m)
	if string(got) != string(want) {
		t.Fatalf("fold\n%s\nposted\n%s", got, want)
	}
}

// A day loaded with 150 twenties of which 510 were typed: variance -360 twenties.
func mistyped(t *testing.T) *ledger {
	l := newLedger(t)
	l.post(books.Record{Kind: books.Opening, Figures: []books.Figure{
		fig(books.Loaded, 1, 40), fig(books.Loaded, 2, 510), fig(books.Loaded, 3, 200)}})
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{
		fig(books.Remaining, 1, 12), fig(books.Remaining, 2, 61), fig(books.Remaining, 3, 80)}})
	l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{
		kind(books.PaidOut, 1, 28), kind(books.PaidOut, 2, 89), kind(books.PaidOut, 3, 120)}})
	l.post(books.Record{Kind: books.Close, Period: 1, Where: books.Cash})
	return l
}

// Correcting the opening makes the day balance, moves the notes back and leaves
// the old figure visible.
func TestCorrectOpening(t *testing.T) {
	l := mistyped(t)
	if p := l.m.Period(1); !p.Variance.Equal(money(-7200)) {
		t.Fatalf("variance %s, want -360 x 20", p.Variance)
	}
	in := opening()
	in.Happened = l.entries[0].Happened
	moves, err := l.correct(1, &in)
	if err != nil {
		t.Fatal(err)
	}
	if len(moves) != 1 || moves[0] != books.NewMove(books.OverShort, books.Cash, "20", 360) {
		t.Errorf("moves %v", moves)
	}
	if p := l.m.Period(1); p.Verdict != "balanced" || p.Box(2).Loaded != 150 || p.By != 1 {
		t.Errorf("period %+v", p)
	}
	if b := l.m.Recent[0]; b.Corrected != 5 || b.Figures[1].Notes != 510 {
		t.Errorf("the old figures are gone: %+v", b)
	}
	if b := l.m.Recent[4]; b.Kind != books.Correction || b.Figures[1].Notes != 150 {
		t.Errorf("the new figures are not shown: %+v", b)
	}
	l.refold(t)
}

// What the bank owes follows a corrected settlement, also one that is paid.
func TestClaimFollows(t *testing.T) {
	l := newLedger(t)
	s := l.sold(10, 20, 30) // 1,200
	l.post(credit(1200, part(books.Pays, s, 1200)))
	in := l.entries[s-1].Record
	in.Figures = []books.Figure{kind(books.PaidOut, 1, 10), kind(books.PaidOut, 2, 25),
		kind(books.PaidOut, 3, 30)}
	if _, err := l.correct(s, &in); err != nil {
		t.Fatal(err)
	}
	l.owes(100)
	l.refold(t)
}

// A top-up told for today belongs to yesterday, which is closed: yesterday's
// difference follows, and today holds what it should.
func TestMoveToPeriod(t *testing.T) {
	l := mistyped(t)
	l.post(opening())
	l.post(books.Record{Kind: books.TopUp, Period: 5, Figures: []books.Figure{fig(books.Added, 2, 50)}})
	in := l.entries[5].Record
	in.Period, in.Happened = 1, l.entries[0].Happened
	if _, err := l.correct(6, &in); err != nil {
		t.Fatal(err)
	}
	if p := l.m.Period(1); !p.Variance.Equal(money(-7200-1000)) || p.Added["20"] != 50 {
		t.Errorf("period 1: %s, added %v", p.Variance, p.Added)
	}
	if held := l.m.Period(5).Held(); held["20"] != 150 {
		t.Errorf("period 5 holds %v", held)
	}
	l.refold(t)
}

// What is in force is what holds, in the order in which it does.
func TestInForce(t *testing.T) {
	l := mistyped(t)
	in := opening()
	if _, err := l.correct(1, &in); err != nil {
		t.Fatal(err)
	}
	list := books.InForce(l.entries)
	if len(list) != 4 || list[0].Figures[1].Notes != 150 || list[3].Kind != books.Close {
		t.Errorf("in force: %+v", list)
	}
}

// Any records, then corrections of any of them, by other figures, by none or
// into another period: the fold gives the books at hand, no note comes from
// nowhere, and no box holds fewer than none.
func TestAnyCorrections(t *testing.T) {
	checks.Rapid(t, 100, 2_000, 100_000, func(rt *rapid.T) {
		l := newLedger(t)
		for range rapid.IntRange(1, 4).Draw(rt, "days") {
			l.sold(rapid.Int64Range(0, 40).Draw(rt, "50s"), rapid.Int64Range(0, 150).Draw(rt, "20s"), 7)
		}
		l.post(opening())
		l.post(books.Record{Kind: books.TopUp, Period: l.m.Open,
			Figures: []books.Figure{fig(books.Added, 2, 50)}})
		taken := 0
		for range rapid.IntRange(1, 10).Draw(rt, "corrections") {
			target := rapid.Int64Range(1, l.m.Seq).Draw(rt, "target")
			in := altered(rt, l, target)
			if _, err := l.correct(target, in); err == nil {
				taken++
			}
			l.refold(rt)
			sum := books.Notes{}
			for p, n := range l.m.Balance {
				sum.Add(n)
				for _, c := range n {
					if p.Inside() && c < 0 {
						rt.Fatalf("%s holds %v", p, n)
					}
				}
			}
			if len(sum) != 0 {
				rt.Fatalf("notes from nowhere: %v", sum)
			}
		}
		rt.Log(taken)
	})
}

func altered(rt *rapid.T, l *ledger, target int64) *books.Record {
	if rapid.IntRange(0, 5).Draw(rt, "none") == 0 {
		return nil
	}
	in := l.entries[target-1].Record
	in.Figures = append([]books.Figure(nil), in.Figures...)
	for i := range in.Figures {
		in.Figures[i].Notes = rapid.Int64Range(0, 300).Draw(rt, "notes")
	}
	if in.Kind == books.TopUp && rapid.Bool().Draw(rt, "moved") {
		in.Period = rapid.SampledFrom(l.m.Periods).Draw(rt, "period").No
	}
	in.Due = decimal.Zero
	return &in
}
