package books_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
)

// before is a ledger of the time before records said a rule.
func before(t testing.TB) *ledger {
	l := newLedger(t)
	l.unruled = true
	return l
}

// A day counted anew before records said a rule: the next opening filled up from
// the first count. Of 150 twenties 60 were left by the first, so 90 were put in
// whatever the second said, and the box holds by the ledger as many more or
// fewer than the period as the counts differ: 61 + 90 = 151, 59 + 90 = 149.
func TestFirstRuleFillsUpFromTheFirstCount(t *testing.T) {
	for again, holds := range map[int64]int64{61: 151, 59: 149, 60: 150, 0: 90, 100: 190} {
		l := before(t)
		l.post(opening())
		l.post(left(1, 40, 60, 200))
		l.post(left(1, 40, again, 200))
		l.post(closing(1, ""))
		moves := l.post(opening())
		want := []books.Move{books.NewMove(books.Cash, books.BoxPlace(2), "20", 90)}
		if !slices.Equal(moves, want) {
			t.Errorf("%d left: the next opening moves %v, want %v", again, moves, want)
		}
		l.holds(books.BoxPlace(2), books.Notes{"20": holds})
		if held := l.m.Period(5).Box(2).Held; held != 150 {
			t.Errorf("%d left: the period holds %d", again, held)
		}
		l.refold(t)
	}
}

// counts is the old arithmetic of what days leave in the boxes, told anew: the
// count that ends a day says it, and a later one of that day nothing.
type counts struct {
	open int64                 // the period that is not counted yet; 0: none
	left map[books.Place]int64 // in each box for the next opening
}

// takes follows a record that the books took in, and gives what an opening
// brings into each box, or takes out of it where it is below nothing.
func (c *counts) takes(l *ledger, r books.Record, earlier *books.Machine) map[books.Place]int64 {
	switch {
	case r.Kind == books.Opening && !(r.Has(books.Paper) && c.open != 0):
		brought := map[books.Place]int64{}
		for _, f := range r.Figures {
			brought[books.BoxPlace(f.Box)] += f.Notes
		}
		for place, n := range c.left {
			brought[place] -= n
		}
		c.open, c.left = l.m.Seq, nil
		return brought
	case r.Kind == books.Count && r.Period == c.open:
		c.open, c.left = 0, map[books.Place]int64{}
		for _, b := range l.m.Period(r.Period).Boxes {
			c.left[books.BoxPlace(b.Position)] = b.Held
		}
	case r.Kind == books.Close && r.Where != "":
		if p := earlier.Period(r.Period); !p.Taken && !p.Paper {
			c.left = nil
		}
	}
	return nil
}

// Whatever is recorded, in whatever order: records that say no rule give what
// the arithmetic gave before there was another, and so does the fold over them.
func TestRecordsWithoutARule(t *testing.T) {
	again := 0
	checks.Rapid(t, 100, 2_000, 50_000, func(rt *rapid.T) {
		l, old := before(t), &counts{}
		for range rapid.IntRange(1, 40).Draw(rt, "records") {
			r, earlier := someRecord(rt, l), l.m
			moves, err := l.try(r)
			if err != nil {
				continue
			}
			if r.Kind == books.Count && earlier.Open != r.Period && !earlier.Period(r.Period).Paper {
				again++
			}
			brought := old.takes(l, r, earlier)
			for place, want := range brought {
				if got := into(moves, place); got != want {
					rt.Fatalf("opening %d brings %d into %s, want %d", l.m.Seq, got, place, want)
				}
			}
			if some := l.m.Carried != nil; some != (old.left != nil) {
				rt.Fatalf("after %d something is left: %t", l.m.Seq, some)
			}
			for _, f := range l.m.Carried {
				if place := books.BoxPlace(f.Box); f.Notes != old.left[place] {
					rt.Fatalf("after %d %s leaves %d, want %d", l.m.Seq, place, f.Notes, old.left[place])
				}
			}
		}
		l.refold(rt)
	})
	if again == 0 {
		t.Error("no day was counted anew")
	}
}

// into is what movements bring into a place, less what they take out.
func into(moves []books.Move, place books.Place) (n int64) {
	for _, m := range moves {
		if m.To == place {
			n += m.Notes
		}
		if m.From == place {
			n -= m.Notes
		}
	}
	return n
}

// A day that was counted before records said a rule and is counted anew now: the
// record of now is posted by the rule of now.
func TestCountedAnewByTheRuleOfNow(t *testing.T) {
	l := before(t)
	l.post(opening())
	l.post(left(1, 40, 60, 200))
	l.unruled = false
	l.post(left(1, 40, 61, 200))
	if moves := l.post(opening()); into(moves, books.BoxPlace(2)) != 89 {
		t.Errorf("the next opening moves %v, want 89", moves)
	}
	l.heldTogether(t)
	l.refold(t)
}

// A second count that is corrected: as it was corrected before records said a
// rule it leaves the next opening as it was, 90 twenties; corrected now, to one
// ten less, the 61 twenties that were left count as well.
func TestCorrectedByTheRuleOfNow(t *testing.T) {
	for unruled, want := range map[bool]int64{true: 151, false: 150} {
		l := before(t)
		l.post(opening())
		l.post(left(1, 40, 60, 200))
		l.post(left(1, 40, 61, 200))
		l.post(opening())
		l.unruled = unruled
		in := left(1, 40, 61, 199)
		if _, err := l.correct(3, &in); err != nil {
			t.Fatal(err)
		}
		l.holds(books.BoxPlace(2), books.Notes{"20": want})
		l.refold(t)
	}
}

// Movements of nothing out of a box were taken in, and fewer than none brought
// notes in: 40 fifties and 3 from the till are 43.
func TestFirstRuleTakesMovementsOfNothing(t *testing.T) {
	l := before(t)
	l.post(opening())
	if moves := l.post(moved(books.BoxPlace(1), books.Till, "50", 0)); moves != nil {
		t.Errorf("a movement of nothing moves %v", moves)
	}
	want := []books.Move{{From: books.Till, To: books.BoxPlace(1), Face: "50", Notes: 3}}
	if moves := l.post(moved(books.BoxPlace(1), books.Till, "50", -3)); !slices.Equal(moves, want) {
		t.Errorf("it moves %v, want %v", moves, want)
	}
	if held := l.m.Period(1).Box(1).Held; held != 43 {
		t.Errorf("the period holds %d", held)
	}
	l.holds(books.BoxPlace(1), books.Notes{"50": 43})
	l.refold(t)
}

// Records of which there is more than one arithmetic say theirs, in a correction
// as well; what was handed in stays as it was.
func TestRuled(t *testing.T) {
	for kind, want := range map[books.Kind]books.Rule{
		books.Opening: 0, books.Close: 1, books.Correction: 3,
		books.TopUp: 0, books.Spot: 0, books.Count: 1, books.Moved: 1,
	} {
		if got := books.Ruled(books.Record{Kind: kind}).Rule; got != want {
			t.Errorf("%s by rule %d, want %d", kind, got, want)
		}
	}
	in := left(1, 40, 60, 200)
	r := books.Record{Kind: books.Correction, Target: 2, Instead: &in}
	if got := books.Ruled(r); got.Rule != 3 || got.Instead.Rule != 1 || in.Rule != 0 || r.Instead != &in {
		t.Errorf("%+v in the place of %+v", got.Instead, in)
	}
	if twice := books.Ruled(books.Ruled(r)); !reflect.DeepEqual(twice, books.Ruled(r)) {
		t.Errorf("ruled twice: %+v", twice)
	}
}

// A slip that was moved before corrections said a rule takes effect when it was
// moved, after all that stood there by then.
func TestFirstRuleMovesASlipToTheEnd(t *testing.T) {
	l := twoDays(t)
	l.unruled = true
	if _, err := l.correct(4, l.shifted(4, 6)); err != nil {
		t.Fatal(err)
	}
	if got, want := kinds(l.entries), []int64{1, 2, 3, 5, 6, 7, 8, 9, 4}; !slices.Equal(got, want) {
		t.Errorf("in force %v, want %v", got, want)
	}
	l.refold(t)
}

// What was closed before closes said a rule keeps its difference: a test of one
// twenty after the last slip made it 20 short.
func TestFirstRuleTakesTestsForShort(t *testing.T) {
	l := triedAfterTheSlip(before(t))
	if p := l.m.Period(1); p.Verdict != "short" || !p.Variance.Equal(money(-20)) {
		t.Errorf("%s %s", p.Verdict, p.Variance)
	}
	l.refold(t)
}
