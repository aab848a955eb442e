package owing

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/telling"
)

// Referred reads the bank's reference of a payment that is on record: AB12 for tuesday. It
// gives the payments that can be meant, the oldest first: those for the days that are named,
// or the last ones. day says whether a day is named; typed are the words as they were typed.
func Referred(t *telling.Teller, words, typed string) (ref string, list []int64, day bool) {
	ref, rest := Reference(t, "ref "+words, typed)
	if ref == "" || t.F.Ask.Since == nil {
		return ref, nil, false
	}
	of, day := ClaimsNamed(t, rest)
	if len(of) > 0 {
		list = paymentsOf(t, of[0], func(e books.Entry) bool {
			about := dues.About([]books.Entry{e})
			return slices.ContainsFunc(about, func(seq int64) bool { return slices.Contains(of, seq) })
		})
	} else if rest == "" && len(t.M.Payments) > 0 {
		list = paymentsOf(t, t.M.Payments[0].Seq, func(books.Entry) bool { return true })
	}
	return ref, list, day
}

// paymentsOf lists the payments in force from a record on that are wanted.
func paymentsOf(t *telling.Teller, seq int64, wanted func(books.Entry) bool) (list []int64) {
	for _, e := range books.InForce(t.F.Ask.Since(seq)) {
		if (e.Kind == books.Credit || e.Kind == books.Debit) && wanted(e) {
			list = append(list, e.Seq)
		}
	}
	return list
}

// PaymentName names a payment by the day it came and its sum.
func PaymentName(t *telling.Teller, e books.Entry) string {
	sum := decimal.Zero
	for _, a := range e.Amounts {
		sum = sum.Add(a.Value)
	}
	return t.V.Say("button.claim", "day", t.V.Day(t.Local(e.Happened)), "money", t.V.Money(sum))
}

// WithReference is the correction by which a payment has a reference.
func WithReference(e books.Entry, ref string) books.Record {
	in := e.Record
	in.Ref = ref
	return books.Record{Kind: books.Correction, Target: e.Seq, Period: e.Period, Reason: books.KnownNow,
		Instead: &in}
}
