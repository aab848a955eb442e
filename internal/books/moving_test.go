package books_test

import (
	"errors"
	"reflect"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
)

func between(no int64, why books.Reason, from, to books.Place, twenties int64) books.Record {
	return books.Record{Kind: books.Moved, Period: no, Reason: why,
		Moves: []books.Move{{From: from, To: to, Face: "20", Notes: twenties}}}
}

// Notes never go straight from one box to another, also where both hold the
// same kind: two records, with the shop's cash in between.
func TestNoMoveFromBoxToBox(t *testing.T) {
	l := newLedger(t)
	l.post(books.Record{Kind: books.Opening, Figures: []books.Figure{
		fig(books.Loaded, 2, 100), {Field: books.Loaded, Box: 3, Face: "20", Notes: 50}}})
	_, err := l.try(between(1, books.Other, books.BoxPlace(2), books.BoxPlace(3), 10))
	if r, ok := errors.AsType[*books.Refusal](err); !ok || r.Code != books.NoMove {
		t.Errorf("from box to box: %v", err)
	}
	l.post(between(1, books.Other, books.BoxPlace(2), books.Cash, 10))
	l.post(between(1, books.Other, books.Cash, books.BoxPlace(3), 10))
	p := l.m.Period(1)
	if two, three := p.Box(2),
		p.Box(3); two.Held != 90 || two.Removed != 10 || three.Held != 60 || three.Added != 10 {
		t.Errorf("boxes %+v", p.Boxes)
	}
	if p.Removed["20"] != 10 || p.Added["20"] != 10 {
		t.Errorf("removed %v, added %v", p.Removed, p.Added)
	}
}

// Nothing goes into or out of the machine with a record that is of no period.
func TestNoMoveWithoutAPeriod(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	for _, r := range []books.Record{
		between(0, books.Change, books.BoxPlace(2), books.Till, 1), between(0, books.Returned, books.Till,
			books.BoxPlace(2), 1),
	} {
		if _, err := l.try(r); err == nil {
			t.Errorf("taken: %+v", r)
		}
	}
}

// Borrowed 5 and 10 twenties, 300 in all. What comes back pays the oldest debt
// first; one that is paid back to the last note is gone, and more than was
// borrowed leaves none below nothing.
func TestDebts(t *testing.T) {
	owed := func(back ...int64) []string {
		l := newLedger(t)
		l.post(opening())
		l.post(between(1, books.Change, books.BoxPlace(2), books.Till, 5))
		l.post(between(1, books.Change, books.BoxPlace(2), books.Till, 10))
		for _, n := range back {
			l.post(between(0, books.Returned, books.Till, books.Cash, n))
		}
		list := []string{}
		for _, d := range l.m.Debts {
			list = append(list, d.Value.String())
		}
		return list
	}
	for _, c := range []struct {
		back []int64 // twenties
		want []string
	}{
		{nil, []string{"100", "200"}},
		{[]int64{4}, []string{"20", "200"}},    // 100 - 80
		{[]int64{5}, []string{"200"}},          // just the first
		{[]int64{6}, []string{"180"}},          // the first, and 20 of the second
		{[]int64{15}, []string{}},              // both
		{[]int64{20}, []string{}},              // 100 too much
		{[]int64{1, 4, 9}, []string{"20"}},     // 20, then 80, then 180
		{[]int64{2, 2, 2}, []string{"180"}},    // 120 in three goes
		{[]int64{20, 1, 1}, []string{}},        // nothing is owed any more
		{[]int64{1, 1}, []string{"60", "200"}}, // the first stays the first
	} {
		if got := owed(c.back...); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v twenties back: %v are owed, want %v", c.back, got, c.want)
		}
	}
}

// However change is borrowed and brought back, what is owed is what was
// borrowed less what came back, and never below nothing.
func TestDebtsAddUp(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(rt *rapid.T) {
		l := newLedger(t)
		l.post(opening())
		owed := int64(0)
		for range rapid.IntRange(1, 12).Draw(rt, "times") {
			n := rapid.Int64Range(1, 9).Draw(rt, "twenties")
			if rapid.Bool().Draw(rt, "borrowed") {
				l.post(between(1, books.Change, books.BoxPlace(2), books.Till, n))
				owed += 20 * n
			} else {
				l.post(between(0, books.Returned, books.Till, books.Cash, n))
				owed = max(0, owed-20*n)
			}
			if got := l.m.Owed(); !got.Equal(decimal.NewFromInt(owed)) {
				rt.Fatalf("owed %s, want %d", got, owed)
			}
			for _, d := range l.m.Debts {
				if !d.Value.IsPositive() {
					rt.Fatalf("a debt of nothing: %+v", l.m.Debts)
				}
			}
		}
	})
}

// Other reasons owe nothing.
func TestExchangeOwesNothing(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	for _, why := range []books.Reason{books.Exchange, books.FromBank, books.Warning, books.Other} {
		l.post(between(1, why, books.BoxPlace(2), books.Till, 1))
	}
	if len(l.m.Debts) != 0 || !l.m.Owed().IsZero() {
		t.Errorf("owed %+v", l.m.Debts)
	}
}

// A swap: 150 twenties loaded, the box comes out with 40 and another goes in
// with 100. The 110 that went meanwhile are the machine's to explain.
func TestSwap(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	moves := l.post(books.Record{Kind: books.Swap, Period: 1, Figures: []books.Figure{
		fig(books.Left, 2, 40), fig(books.Added, 2, 100)}})
	want := []books.Move{
		{From: books.BoxPlace(2), To: books.Cash, Face: "20", Notes: 40},
		{From: books.Cash, To: books.BoxPlace(2), Face: "20", Notes: 100},
	}
	if !reflect.DeepEqual(moves, want) {
		t.Fatalf("movements %v\nwant      %v", moves, want)
	}
	if b := l.m.Period(1).Box(2); b.Held != 210 || b.Removed != 40 || b.Added != 100 || b.Loaded != 150 {
		t.Errorf("box %+v", b)
	}
	// 150 - 40 + 100 - 130 = 80 should be inside, and are.
	l.post(left(1, 40, 80, 200))
	l.post(paid(1, 0, 130, 0))
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p.Verdict != "balanced" {
		t.Errorf("%s %s", p.Verdict, p.Variance)
	}
	l.holds(books.Customers, books.Notes{"20": 130})
	l.holds(books.OverShort, nil)
}

// A box that holds more than was put in: the surplus comes out of what is not
// explained, never from nowhere, and shows at the close.
func TestTakenOutMoreThanHeld(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	moves := l.post(books.Record{Kind: books.Swap, Period: 1, Figures: []books.Figure{fig(books.Left, 1, 43)}})
	want := []books.Move{
		{From: books.Gone, To: books.BoxPlace(1), Face: "50", Notes: 3},
		{From: books.BoxPlace(1), To: books.Cash, Face: "50", Notes: 43},
	}
	if !reflect.DeepEqual(moves, want) {
		t.Fatalf("movements %v\nwant      %v", moves, want)
	}
	p := l.m.Period(1)
	if b := p.Box(1); b.Held != 0 || b.Removed != 43 || p.Gone["50"] != -3 {
		t.Errorf("box %+v, gone %v", b, p.Gone)
	}
	l.post(left(1, 0, 150, 200))
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p.Verdict != "over" || !p.Variance.Equal(money(150)) || p.ByFace["50"] != 3 {
		t.Errorf("%s %s by %v", p.Verdict, p.Variance, p.ByFace)
	}
}

// Just as many as are held come out without any of that.
func TestTakenOutAll(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	moves := l.post(between(1, books.Warning, books.BoxPlace(2), books.Bank, 150))
	if want := []books.Move{{From: books.BoxPlace(2), To: books.Bank, Face: "20",
		Notes: 150}}; !reflect.DeepEqual(moves, want) {
		t.Errorf("movements %v", moves)
	}
	l.holds(books.Bank, books.Notes{"20": 150})
	l.holds(books.BoxPlace(2), nil)
}

// Notes found before the count, in the box for refused notes and on the way.
func TestFoundBeforeTheCount(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Found, Period: 1, Where: books.Tray,
		Figures: []books.Figure{kind(books.FoundAt, 2, 4)}})
	l.post(books.Record{Kind: books.Found, Period: 1, Where: books.Path,
		Figures: []books.Figure{kind(books.FoundAt, 2, 1)}})
	p := l.m.Period(1)
	if p.Tray["20"] != 4 || p.Path["20"] != 1 || p.Gone["20"] != -5 || len(p.Findings) != 2 ||
		p.Findings[1].Where != books.Path || p.Findings[1].Notes["20"] != 1 {
		t.Fatalf("tray %v, path %v, gone %v, findings %+v", p.Tray, p.Path, p.Gone, p.Findings)
	}
	// Counted: 5 in the tray, one more than was found, and the one set aside.
	l.post(left(1, 40, 100, 200, kind(books.Refused, 2, 5), kind(books.FoundAt, 2, 1)))
	// 20s: 150 - 44 paid out = 106 should be inside: 100 + 5 + 1.
	l.post(paid(1, 0, 44, 0))
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p.Verdict != "balanced" {
		t.Errorf("%s %s", p.Verdict, p.Variance)
	}
	l.holds(books.Cash, books.Notes{"20": -44})
	l.holds(books.Tray, nil)
	l.holds(books.Path, nil)
}

// A level check keeps what was shown beside what the ledger says; a box that
// was not looked at keeps the ledger's figure.
func TestLevelCheck(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.TopUp, Period: 1, Figures: []books.Figure{fig(books.Added, 2, 50)}})
	if moves := l.post(books.Record{Kind: books.Level, Period: 1,
		Figures: []books.Figure{fig(books.Shown, 2, 120)}}); len(moves) != 0 {
		t.Errorf("a look at the machine moves %v", moves)
	}
	r := l.m.Period(1).Readings[0]
	if !reflect.DeepEqual(r.Boxes, []int64{40, 120, 200}) || !reflect.DeepEqual(r.Held, []int64{40, 200,
		200}) {
		t.Errorf("reading %+v", r)
	}
}
