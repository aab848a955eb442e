package dues

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
)

// Changed gives, by settlement, by how much the claims for days of finished months were
// changed since: corrected, taken back, or recorded only then. dayOf is the day of a claim,
// since gives the entries from a number on, and back the books before an entry with all
// since then, which are read only where something was put right.
func Changed(claims []books.Claim, list []months.Month, dayOf func(books.Claim) shop.Date,
	since func(seq int64) []books.Entry, back func(seq int64) (*books.Machine, []books.Entry)) (
	map[int64]decimal.Decimal, error) {
	changed := map[int64]decimal.Decimal{}
	for _, m := range list {
		var its []books.Claim
		for _, c := range claims {
			if day := dayOf(c); m.First <= day && day <= m.Last {
				its = append(its, c)
			}
		}
		if len(its) == 0 || !slices.ContainsFunc(since(m.Upto+1), mends) && its[len(its)-1].Seq <= m.Upto {
			continue
		}
		first := slices.MinFunc(its, func(a, b books.Claim) int { return cmp.Compare(a.Seq, b.Seq) }).Seq
		then, entries := back(first)
		was := map[int64]decimal.Decimal{}
		if then.Seq <= m.Upto { // else all of them came later
			var err error
			if was, err = valuesAt(then, m.Cut(entries)); err != nil {
				return nil, err
			}
		}
		for _, c := range its {
			if d := c.Value.Sub(was[c.Seq]); !d.IsZero() {
				changed[c.Seq] = d
			}
		}
	}
	return changed, nil
}

// mends reports whether an entry puts another right.
func mends(e books.Entry) bool {
	return e.Kind == books.Undo || e.Kind == books.Correction || e.Kind == books.Dated
}

// valuesAt is what was due for each settlement after some entries that go on from books.
func valuesAt(then *books.Machine, entries []books.Entry) (map[int64]decimal.Decimal, error) {
	m, err := books.HistoryOn(then, entries)
	if err != nil {
		return nil, err
	}
	was := map[int64]decimal.Decimal{}
	for _, c := range m.Claims {
		was[c.Seq] = c.Value
	}
	return was, nil
}

// Kept is [At] for a day of a finished month: what was owed then stays as it was told when
// that was finished, and what was put right since is told as such. It tells of the settlements that
// entries touch, all that came after some books from before the end of the month and before the
// records of that day.
func Kept(before *books.Machine, entries []books.Entry, month months.Month, day shop.Date,
	dayOf func(books.Entry) shop.Date) ([]Then, error) {
	cut := month.Cut(entries)
	then, err := books.HistoryOn(before, cut)
	if err != nil {
		return nil, err
	}
	m, err := books.HistoryOn(before, entries)
	if err != nil {
		return nil, err
	}
	list := At(then.Claims, cut, day, dayOf)
	for i := range list {
		t := &list[i]
		was, now := t.Claim, claimOf(m, t.Claim.Seq)
		t.Changed = now.Value.Sub(was.Value)
		t.Paid, t.GivenUp = t.Paid.Add(now.Paid.Sub(was.Paid)), t.GivenUp.Add(now.GivenUp.Sub(was.GivenUp))
	}
	for _, t := range At(m.Claims, entries, day, dayOf) { // what came in only later
		if claimOf(then, t.Claim.Seq).Seq == 0 {
			t.Changed, t.Owed = t.Claim.Value, decimal.Zero
			t.Paid, t.GivenUp = t.Claim.Paid, t.Claim.GivenUp
			list = append(list, t)
		}
	}
	return list, nil
}

// claimOf gives a claim that a machine has at hand, or one of no settlement.
func claimOf(m *books.Machine, seq int64) books.Claim {
	i := slices.IndexFunc(m.Claims, func(c books.Claim) bool { return c.Seq == seq })
	if i < 0 {
		return books.Claim{}
	}
	return m.Claims[i]
}
