package owing

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/dues"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// finished lists the finished months of a machine.
func finished(t *telling.Teller) []months.Month {
	if t.F.Ask.Finished == nil {
		return nil
	}
	return months.Of(t.F.Ask.Finished(), t.M.ID)
}

// putRight gives by how much claims for days of finished months were changed since.
func putRight(t *telling.Teller, due []books.Claim) map[int64]decimal.Decimal {
	since := t.F.Ask.Since
	if since == nil {
		since = func(seq int64) []books.Entry { return books.From(t.Ledger(), seq) }
	}
	dayOf := func(c books.Claim) shop.Date { return telling.SlipDay(t, c) }
	changed, err := dues.Changed(due, finished(t), dayOf, since, t.Back)
	if err != nil {
		return nil // the ledger does not hold together, which is told elsewhere
	}
	return changed
}

// touched is what was owed at the end of a day, as it was told when its month was finished where
// that is so, for the settlements that records since touch; and the claims for these by now.
func touched(t *telling.Teller, day shop.Date) ([]dues.Then, []books.Claim) {
	dayOf := func(e books.Entry) shop.Date { return bygone.DayOf(t, e) }
	then, since := t.Lately(day)
	list := finished(t)
	i := slices.IndexFunc(list, func(m months.Month) bool { return m.First <= day && day <= m.Last })
	if i >= 0 && list[i].Upto < then.Seq {
		then, since = t.Back(list[i].Upto + 1)
	}
	of := dues.Touched(since)
	t.OwingOf(of)
	claims := t.M.ClaimsOf(of)
	if i >= 0 {
		if kept, err := dues.Kept(then, since, list[i], day, dayOf); err == nil {
			return kept, claims
		}
	}
	return dues.At(claims, since, day, dayOf), claims
}

// owedOn lists what the bank owed for a machine at the end of a day, oldest first.
func owedOn(t *telling.Teller, day shop.Date) []dues.Then {
	list, claims := touched(t, day)
	no := make(map[int64]bool, len(claims))
	for i := range claims {
		no[claims[i].Seq] = true
	}
	for _, is := range []dues.State{dues.Still, dues.Over} {
		for _, c := range t.Claims(dues.Wanted{Is: is, To: day}) {
			if !no[c.Seq] {
				list = append(list, dues.Then{Claim: c, Owed: c.Left()})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b dues.Then) int { return cmp.Compare(a.Claim.Seq, b.Claim.Seq) })
	return list
}

// owedSum adds up what the bank owed for a machine at the end of a day, for how many settlements.
// It does not read those that nothing was recorded for since.
func owedSum(t *telling.Teller, day shop.Date) (sum dues.Then, n int) {
	list, claims := touched(t, day)
	all, later := t.Owed(""), t.Owed(day.Add(1))
	still := dues.Owed{Sum: all.Sum.Sub(later.Sum), Count: all.Count - later.Count}
	sum, n = dues.Resting(still, t.Claims(dues.Wanted{Is: dues.Over, To: day}), claims, day)
	for _, x := range list {
		sum = sum.And(x)
	}
	return sum, n + len(list)
}
