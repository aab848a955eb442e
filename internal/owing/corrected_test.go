package owing_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
)

// monday is books in which the bank owes 500 for a settlement that no correction is about, and
// what is said for that of Monday, which is record 7.
func monday(value, paid, given int64) *books.Machine {
	m := books.New(1)
	for _, x := range []struct{ seq, value, paid, given int64 }{{7, value, paid, given}, {9, 500, 0, 0}} {
		m.Claims = append(m.Claims, books.Claim{Seq: x.seq, Day: shop.Date("2026-11-23").Add(int(x.seq) - 7),
			Value: money(x.value), Paid: money(x.paid), GivenUp: money(x.given)})
		m.Money.Claimed = m.Money.Claimed.Add(money(x.value))
		m.Money.Paid = m.Money.Paid.Add(money(x.paid))
		m.Money.GivenUp = m.Money.GivenUp.Add(money(x.given))
	}
	return m
}

func money(n int64) decimal.Decimal { return decimal.NewFromInt(n) }

// What a correction of a slip makes of what the bank owes, against plain sums: never below
// nothing for that slip, what was given up gives way first, and what is left beyond that was
// paid too much.
func TestCorrectedAddsUp(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New))
	of := []int64{30, 60, 100, 130}
	tried := 0
	for _, value := range of {
		for _, paid := range []int64{0, 30, 60, 100} {
			for _, given := range []int64{0, 20, 40} {
				if given > 0 && paid+given > value {
					continue // no more is given up than is left
				}
				for _, then := range of {
					tried++
					tell.M = monday(value, paid, given)
					got := strings.Join(owing.Corrected(tell, monday(then, paid, given), 7), "\n")
					var want []string
					back := min(given, max(paid+given-then, 0))
					if back > 0 {
						want = append(want, fmt.Sprintf("Of what was given up, €%d is taken back.", back))
					}
					before, after := 500+max(value-paid-given, 0), 500+max(then-paid-given, 0)
					if before != after {
						want = append(want, fmt.Sprintf("The bank owes: €%d, then €%d.", before, after))
					}
					if paid > then {
						want = append(want, fmt.Sprintf("Paid too much for Mon 23 Nov: €%d. "+
							"If the bank takes it back, write debit.", paid-then))
					}
					if list := strings.Join(want, "\n"); got != list {
						t.Errorf("%d, paid %d, given up %d, then %d:\n%s\nwant:\n%s", value, paid, given, then, got, list)
					}
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d tried", tried)
	}
}

// What the bank paid for a settlement that is none any more is for nothing known, and is told
// unless it already was so before.
func TestCorrectedLoose(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New))
	with := func(m *books.Machine, sums ...int64) *books.Machine {
		for i, v := range sums {
			m.Loose = append(m.Loose, books.Loose{Seq: int64(20 + i), As: books.Unknown, Value: money(v)})
		}
		return m
	}
	for name, s := range map[string]struct {
		before, after *books.Machine
		want, not     string
	}{
		"the slip goes": {monday(60, 60, 0), with(monday(0, 0, 0), 60),
			"€60 that the bank paid is for nothing known then.", "owes"},
		"more of it": {with(monday(100, 0, 0), 20), with(monday(100, 0, 0), 20, 25),
			"€25 that the bank paid", "€45"},
		"as before": {with(monday(100, 0, 0), 20), with(monday(100, 0, 0), 20), "", "nothing known"},
		"less of it": {with(monday(100, 0, 0), 20), monday(100, 20, 0), "The bank owes: €600, then €580.",
			"nothing known"},
		"paid too much and loose": {monday(60, 60, 0), with(monday(40, 60, 0), 5),
			"Paid too much for Mon 23 Nov: €20", "nothing known"},
	} {
		tell.M = s.before
		t.Run(name, func(t *testing.T) {
			floor.Expect(t, strings.Join(owing.Corrected(tell, s.after, 7), "\n"), s.want, s.not)
		})
	}
}

// Late together is what has waited since the same moment, whatever its day; and what was due
// last before a claim is looked for among the settlements before it.
func TestSinceTheSameMoment(t *testing.T) {
	f := floor.New(t, dialogs.New)
	for i, on := range []shop.Date{"2026-11-20", "2026-11-23", "2026-11-23", "2026-11-24", "2026-11-23", ""} {
		f.Machine.Claims = append(f.Machine.Claims, books.Claim{Seq: int64(i + 1), Day: "2026-11-19", On: on,
			Value: money(10), Paid: money(int64(i / 4 * 10))}) // the last two are paid
	}
	tell := teller(f)
	next := func(d shop.Date) time.Time { return d.Add(1).Time() }
	weekly := func(d shop.Date) time.Time { // the Monday before
		return d.Add(-((int(d.Time().Weekday()) + 6) % 7)).Time()
	}
	seqs := func(list []books.Claim) (of []int64) {
		for _, x := range list {
			of = append(of, x.Seq)
		}
		return of
	}
	for _, s := range []struct {
		of   int64
		from func(shop.Date) time.Time
		want []int64
	}{{2, next, []int64{2, 3}}, {1, next, []int64{1}}, {4, next, []int64{4}}, {3, weekly, []int64{2, 3, 4}}} {
		if got := seqs(owing.Since(tell, *f.Machine.Claim(s.of), s.from)); fmt.Sprint(got) != fmt.Sprint(s.want) {
			t.Errorf("with claim %d %v is late, want %v", s.of, got, s.want)
		}
	}
	for of, want := range map[int64]int64{1: 0, 2: 1, 3: 1, 4: 3, 5: 1, 6: 0} {
		got, ok := owing.DueBefore(tell, *f.Machine.Claim(of))
		if got.Seq != want || ok != (want != 0) {
			t.Errorf("before claim %d claim %d was due (%t), want %d", of, got.Seq, ok, want)
		}
	}
}
