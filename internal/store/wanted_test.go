package store_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	rows "shopfloat/internal/store/ledger"
)

// What is asked of claims in the words of the table is what is asked of them one by one:
// every state, order and bound, of claims paid, in part, too much, given up, with and without
// days.
func TestWanted(t *testing.T) {
	db, _ := open(t)
	l := newLedger(t, db)
	r := rand.New(rand.NewPCG(3, 4))
	for n := range int64(24) {
		no := l.cause + 1
		paid := printed(books.PaidOut, 1+n%5, n%3, 0)
		day := shop.DateOf(morning).Add(int(n/2) * 45) // over months and years
		l.post(books.Record{Kind: books.Opening, Day: day, Figures: boxes(books.Loaded, 40, 150, 200)},
			books.Record{Kind: books.Settlement, Period: no, Day: day,
				DueOn: []shop.Date{"", day.Add(2)}[min(n%4, 1)], Figures: paid},
			books.Record{Kind: books.Count, Period: no, Figures: boxes(books.Remaining, 40-1-n%5, 150-n%3, 200)},
			books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		some := decimal.New(r.Int64N(9_000), -2)
		switch n % 4 {
		case 1:
			l.post(books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: some}},
				Parts: []books.Part{{As: books.Pays, Of: no + 1, Value: some}}})
		case 2:
			l.post(books.Record{Kind: books.WriteOff, Reason: books.TooSmall, Parts: []books.Part{{As: books.GivenUp,
				Of: no + 1, Value: decimal.NewFromInt(10)}}})
		}
	}
	tx, err := db.Begin(l.now)
	ok(t, err)
	defer tx.Rollback()
	all, err := tx.Claims(1, dues.Wanted{})
	ok(t, err)
	if len(all) != 24 {
		t.Fatalf("%d claims", len(all))
	}
	for range checks.Size(t, 300, 1_000, 20_000) {
		w := someWanted(r, all)
		got, err := tx.Claims(1, w)
		ok(t, err)
		if want := w.Among(all); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("%+v: %v, one by one %v", w, got, want)
		}
		around := all[r.IntN(len(all))].Day.Add(r.IntN(90) - 45) // its own month and year, and others
		for _, day := range []shop.Date{w.From, around} {
			o, err := tx.Owed(1, day)
			ok(t, err)
			since := dues.Wanted{From: day}
			if want := dues.OwedOf(since.Among(all)); !same(o, want) {
				t.Fatalf("owed since %s: %v, one by one %v", day, o, want)
			}
			o, err = tx.OwedBefore(1, day)
			ok(t, err)
			late := dues.Wanted{Due: [2]shop.Date{"0", day.Add(-1)}}
			if want := dues.OwedOf(late.Among(all)); day != "" && !same(o, want) {
				t.Fatalf("due before %s: %v, one by one %v", day, o, want)
			}
		}
	}
}

func same(a, b dues.Owed) bool { return a.Count == b.Count && a.Sum.Equal(b.Sum) }

func someWanted(r *rand.Rand, all []books.Claim) (w dues.Wanted) {
	one := func() books.Claim { return all[r.IntN(len(all))] }
	for _, set := range []func(){
		func() { w.Of = []int64{one().Seq, one().Seq, 999} }, func() { w.From = one().Day },
		func() { w.To = one().Day }, func() { w.Due[0] = one().Day }, func() { w.Due[1] = one().Day },
		func() { x := one(); v := x.Left(); w.Least = &v }, func() { x := one(); v := x.Left(); w.Most = &v },
		func() { x := one(); w = w.Exactly(x.Left()) }, func() { w.After = one().Seq },
		func() { w.Before = one().Seq }, func() { w.Skip = r.IntN(9) }, func() { w.Limit = r.IntN(9) },
		func() { w.Of = []int64{} },
	} {
		if r.IntN(5) == 0 {
			set()
		}
	}
	w.Is = []dues.State{"", dues.Live, dues.Still, dues.Over, dues.Paid}[r.IntN(5)]
	w.Order = []dues.Order{dues.Oldest, dues.Newest, dues.Smallest, dues.Largest}[r.IntN(4)]
	return w
}

// However many claims are open or paid, a question that is bounded is answered from an index of
// those that it is about, in their order: nothing is sorted, and what is not given is not
// looked at.
func TestWantedByIndex(t *testing.T) {
	db, path := open(t)
	ok(t, db.Close())
	file := plain(t, path)
	list := append(dues.Candidates(decimal.NewFromInt(4_380)), dues.Wanted{Is: dues.Still, Skip: 6, Limit: 6},
		dues.Wanted{Is: dues.Paid, Order: dues.Newest, Limit: 7}, dues.Wanted{Is: dues.Live},
		dues.Wanted{Before: 99, Order: dues.Newest, Limit: 9})
	for i, index := range []string{"claim_most", "claim_most", "claim_left", "claim_still", "claim_still",
		"claim_over", "claim_still", "claim_paid", "claim_open", "PRIMARY KEY"} {
		query, args := rows.Asked(1, list[i])
		plan, err := file.Query("EXPLAIN QUERY PLAN "+query, args...)
		ok(t, err)
		for plan.Next() {
			var id, parent, unused int
			var detail string
			ok(t, plan.Scan(&id, &parent, &unused, &detail))
			if !strings.HasPrefix(detail, "SEARCH claim USING ") || !strings.Contains(detail, index+" (machine=?") {
				t.Errorf("%+v is answered by: %s, want %s", list[i], detail, index)
			}
		}
		ok(t, plan.Close())
	}
}

// A sum is looked up where it stands in the index, and not by walking there from the first claim.
func TestSumIsLookedUp(t *testing.T) {
	db, path := open(t)
	ok(t, db.Close())
	file := plain(t, path)
	for _, w := range dues.Candidates(decimal.NewFromInt(4_380))[:3] {
		query, args := rows.Asked(1, w)
		program, err := file.Query("EXPLAIN "+query, args...)
		ok(t, err)
		bound, entered := 0, false
		for program.Next() {
			var op string
			var rest [7]any
			ok(t, program.Scan(&rest[0], &op, &rest[1], &rest[2], &rest[3], &rest[4], &rest[5], &rest[6]))
			if entered = entered || strings.HasPrefix(op, "Seek"); op == "Variable" && !entered {
				bound++
			}
		}
		ok(t, program.Close())
		if bound < 3 { // the machine, the sum and the limit; that may stand in two places
			t.Errorf("%+v: %d of what is asked are known where the index is entered", w, bound)
		}
	}
}
