package books_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

// anyDay is a day of one kind of note with everything that can happen to it, in
// twenties.
type anyDay struct {
	loaded, added, removed, tried, paid, back, left, tray, path int64
}

func drawDay(rt *rapid.T) anyDay {
	n := func(name string, most int64) int64 { return rapid.Int64Range(0, most).Draw(rt, name) }
	d := anyDay{loaded: n("loaded", 300), added: n("added", 100), removed: n("removed", 60),
		tried: n("tried", 3), paid: n("paid", 300), left: n("left", 300), tray: n("tray", 9), path: n("path", 9)}
	d.back = rapid.Int64Range(0, d.paid).Draw(rt, "back")
	return d
}

// play posts the day as period 1 and closes it.
func (d anyDay) play(l *ledger) {
	one := func(f books.Field, n int64) []books.Figure { return []books.Figure{fig(f, 2, n)} }
	l.post(books.Record{Kind: books.Opening, Figures: one(books.Loaded, d.loaded)})
	l.post(books.Record{Kind: books.TopUp, Period: 1, Figures: one(books.Added, d.added)})
	l.post(books.Record{Kind: books.Swap, Period: 1, Figures: one(books.Left, d.removed)})
	l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Boxes, Marks: []books.Mark{books.Counted},
		Figures: one(books.Tried, d.tried)})
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{fig(books.Remaining, 2, d.left),
		kind(books.Refused, 2, d.tray), kind(books.FoundAt, 2, d.path)}})
	l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{
		kind(books.PaidOut, 2, d.paid), kind(books.Cancelled, 2, d.back)}})
	l.post(books.Record{Kind: books.Close, Period: 1, Where: books.Cash})
}

// For any day the difference is what was counted less the equation of a day,
// expected = loaded + top-ups - removed - paid out + cancelled + tried, and the
// notes lie where that says: with customers, with the shop, or over and short.
func TestAnyDayByTheEquation(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(rt *rapid.T) {
		d, l := drawDay(rt), newLedger(t)
		d.play(l)
		expected := d.loaded + d.added - d.removed - d.paid + d.back + d.tried
		diff := d.left + d.tray + d.path - expected
		p := l.m.Period(1)
		if !p.Variance.Equal(money(20*diff)) || p.ByFace["20"] != diff {
			rt.Fatalf("%+v: difference %s by %v, want %d notes", d, p.Variance, p.ByFace, diff)
		}
		want := cashmath.Balanced
		if diff < 0 {
			want = cashmath.Short
		} else if diff > 0 {
			want = cashmath.Over
		}
		if p.Verdict != want {
			rt.Fatalf("%+v: %s, want %s", d, p.Verdict, want)
		}
		for place, n := range map[books.Place]int64{
			books.OverShort: -diff, books.Customers: d.paid - d.back - d.tried, books.Gone: 0,
			books.Cash:        d.removed + d.left + d.tray + d.path - d.loaded - d.added,
			books.BoxPlace(2): 0, books.Tray: 0, books.Path: 0,
		} {
			if got := l.m.Balance.At(place, "20"); got != n {
				rt.Fatalf("%+v: %s holds %d, want %d", d, place, got, n)
			}
		}
		l.owes(20 * (d.paid - d.back - d.tried))
		l.refold(rt)
	})
}

// Undoing the last record gives the books as they were before it, but for the
// history and the number of the last entry.
func TestUndoIsAsBefore(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(rt *rapid.T) {
		l := newLedger(t)
		drawDay(rt).play(l)
		n := rapid.Int64Range(2, l.m.Seq).Draw(rt, "undone")
		before, err := books.Fold(1, l.entries[:n-1])
		if err != nil {
			rt.Fatal(err)
		}
		undo := books.Entry{Machine: 1, Seq: n + 1, By: 1,
			Record: books.Record{Kind: books.Undo, Target: n, Period: 1}}
		after, err := books.Fold(1, append(slices.Clone(l.entries[:n]), undo))
		if err != nil {
			rt.Fatal(err)
		}
		if after.Seq != n+1 || len(after.Recent) != int(n+1) || !after.Recent[n-1].Void {
			rt.Fatalf("seq %d, history %+v", after.Seq, after.Recent)
		}
		after.Seq, after.Recent, before.Recent = before.Seq, nil, nil
		if got, want := written(rt, after), written(rt, before); got != want {
			rt.Fatalf("undone\n%s\nbefore\n%s", got, want)
		}
	})
}
