package owing

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
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

// owedThen is what was owed at the end of a day, as it was told when its month was finished
// where that is so.
func owedThen(t *telling.Teller, day shop.Date, dayOf func(books.Entry) shop.Date) []dues.Then {
	list := finished(t)
	i := slices.IndexFunc(list, func(m months.Month) bool { return m.First <= day && day <= m.Last })
	if i >= 0 {
		if then, err := dues.Kept(t.M.ID, t.Ledger(), list[i], day, dayOf); err == nil {
			return then
		}
	}
	t.Claims(dues.Wanted{Is: dues.Live, To: day})
	_, since := t.Lately(day)
	t.OwingOf(dues.About(since))
	return dues.At(t.M.Claims, since, day, dayOf)
}
