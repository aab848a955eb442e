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
		since = func(int64) []books.Entry { return t.Ledger() }
	}
	dayOf := func(c books.Claim) shop.Date { return telling.SlipDay(t, c) }
	changed, err := dues.Changed(due, finished(t), dayOf, since, t.Back)
	if err != nil {
		return nil // the ledger does not hold together, which is told elsewhere
	}
	return changed
}

// owing is what the bank owed for a machine at the end of a day.
type owing struct {
	t       *telling.Teller
	day     shop.Date
	touched []dues.Then   // for settlements that records since touch, oldest first
	claims  []books.Claim // for these, by now
}

// owingOn reads what came since a day. For a month that was finished it tells what was owed as
// it was told then.
func owingOn(t *telling.Teller, day shop.Date) *owing {
	dayOf := func(e books.Entry) shop.Date { return bygone.DayOf(t, e) }
	then, since := t.Lately(day)
	list := finished(t)
	i := slices.IndexFunc(list, func(m months.Month) bool { return m.First <= day && day <= m.Last })
	if i >= 0 && list[i].Upto < then.Seq {
		then, since = t.Back(list[i].Upto + 1)
	}
	of := dues.Touched(since)
	t.OwingOf(of)
	o := &owing{t: t, day: day, claims: t.M.ClaimsOf(of)}
	o.touched = dues.At(o.claims, since, day, dayOf)
	if i >= 0 {
		if kept, err := dues.Kept(then, since, list[i], day, dayOf); err == nil {
			o.touched = kept
		}
	}
	slices.SortStableFunc(o.touched, byAge)
	return o
}

func byAge(a, b dues.Then) int { return cmp.Compare(a.Claim.Seq, b.Claim.Seq) }

// list gives the oldest so many settlements of which something was owed, behind one. It reads
// no more than these of the years of them that there may be.
func (o *owing) list(after int64, most int) (list []dues.Then) {
	no := make(map[int64]bool, len(o.claims))
	for i := range o.claims {
		no[o.claims[i].Seq] = true
	}
	for _, is := range []dues.State{dues.Still, dues.Over} {
		w := dues.Wanted{Is: is, To: o.day, After: after, Limit: most + len(no)}
		for _, c := range o.t.Claims(w) {
			if !no[c.Seq] {
				list = append(list, dues.Then{Claim: c, Owed: c.Left()})
			}
		}
	}
	for _, x := range o.touched {
		if x.Claim.Seq > after {
			list = append(list, x)
		}
	}
	slices.SortStableFunc(list, byAge)
	return list[:min(most, len(list))]
}

// sum adds it all up, and says on how many lines it can be told. Settlements that nothing was
// recorded for since are not read.
func (o *owing) sum() (sum dues.Then, lines int) {
	all, later := o.t.Owed(""), o.t.Owed(o.day.Add(1))
	still := dues.Owed{Sum: all.Sum.Sub(later.Sum), Count: all.Count - later.Count}
	sum, lines = dues.Resting(still, o.t.Claims(dues.Wanted{Is: dues.Over, To: o.day}), o.claims, o.day)
	for _, x := range o.touched {
		if sum = sum.And(x); !x.Owed.IsZero() {
			lines++
		}
		if !x.Changed.IsZero() {
			lines++
		}
	}
	return sum, lines
}
