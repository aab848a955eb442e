package tally_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
)

// What was owed on a day is what the books owed that were folded no further than
// that day, and what became of it is the rest: told in two ways that share no code.
func TestOwedThen(t *testing.T) {
	checks.Rapid(t, 60, 300, 20_000, func(rt *rapid.T) {
		h := &history{rt: rt, m: books.New(1)}
		for i := range rapid.IntRange(1, 10).Draw(rt, "days") {
			h.day = first.Add(i)
			h.trade()
			for range h.n("payments", 2) {
				h.money()
			}
			if h.n("again", 3) == 0 {
				h.again()
			}
		}
		day := first.Add(int(h.n("day", 10)))
		folded, err := books.ThoseOn(books.New(1), h.entries, func(e books.Entry) bool {
			return shop.DateOf(e.Happened) <= day
		})
		if err != nil {
			rt.Fatal(err)
		}
		then, left := decimal.Zero, decimal.Zero
		of := h.entries // and it is enough to look from any record before the next day on
		if first := int(h.n("first", int64(len(of)))); first < len(of) && shop.DateOf(of[first].Happened) <= day {
			of = abacus.From(of, of[first].Seq)
		}
		for _, x := range dues.At(h.m.Claims, of, day, dayOf) {
			then, left = then.Add(x.Owed), left.Add(x.Left())
			if c := h.m.Claim(x.Claim.Seq); !x.Left().Equal(c.Left()) {
				rt.Fatalf("of %d are %s left, the books say %s", c.Seq, x.Left(), c.Left())
			}
		}
		if owed := folded.ByBank(); !owed.Equal(then) {
			rt.Fatalf("on %s %s were owed, folded so far %s", day, then, owed)
		}
		touched := h.m.ClaimsOf(dues.Touched(of)) // the others need not be read one by one
		until, over := dues.Wanted{To: day}, dues.Wanted{Is: dues.Over, To: day}
		sum, n := dues.Resting(dues.OwedOf(until.Among(h.m.Claims)), over.Among(h.m.Claims), touched, day)
		for _, x := range dues.At(touched, of, day, dayOf) {
			sum, n = sum.And(x), n+1
		}
		all := len(dues.At(h.m.Claims, of, day, dayOf))
		if !sum.Owed.Equal(then) || !sum.Left().Equal(left) || n != all {
			rt.Fatalf("on %s %s were owed for %d, %s are left; added up %s for %d, %s", day, then, all, left,
				sum.Owed, n, sum.Left())
		}
	})
}

func dayOf(e books.Entry) shop.Date { return e.Day }
