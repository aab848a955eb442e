package mending

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
)

// Reshared shares a payment of another sum out anew among the days that it was for, by books
// that do not have it: what is more than is due is for nothing known or too much, as it was
// said to be; what is less is still owed, and what was given up of it came after all. Charges and
// fees stay what they were. What the payment was for alone it stays for.
func Reshared(r books.Record, m *books.Machine) []books.Part {
	l, gap := dues.Line{}, dues.Means("")
	for _, a := range r.Amounts {
		l.Amount = l.Amount.Add(a.Value)
	}
	for _, p := range r.Parts {
		switch p.As {
		case books.Pays:
			l.Of = append(l.Of, p.Of)
		case books.Charge:
			l.Charged = l.Charged.Sub(p.Value)
		case books.Fee:
			l.Fee = l.Fee.Add(p.Value)
		case books.Extra:
			gap = dues.IsExtra
		}
	}
	if len(l.Of) == 0 {
		l.Whole = alone(r)
	}
	m = nothingGivenUp(m)
	if r.Kind == books.Debit {
		return l.Taken(m)
	}
	return l.Paid(m, gap)
}

// alone is what a payment is for that is for no day.
func alone(r books.Record) books.Share {
	switch {
	case r.Kind == books.Debit && slices.ContainsFunc(r.Parts, func(p books.Part) bool { return p.Of != 0 }):
		return dues.Loose
	case len(r.Parts) == 1:
		return r.Parts[0].As
	}
	return books.Unknown
}

// nothingGivenUp gives books in which all that is not paid is still to come.
func nothingGivenUp(m *books.Machine) *books.Machine {
	c := *m
	c.Claims = slices.Clone(m.Claims)
	for i := range c.Claims {
		c.Claims[i].GivenUp = decimal.Zero
	}
	return &c
}

// Effect is what a correction makes of the difference of a closed period.
type Effect struct {
	Of            *books.Period
	Before, After decimal.Decimal
}

// Effects compares the closed periods that a correction is about before and after it, from
// books on that stood before anything it changes, with all entries since.
func Effects(then *books.Machine, since []books.Entry, e books.Entry) (list []Effect) {
	was, err := books.HistoryOn(then, since)
	now, errNow := books.HistoryOn(then, append(slices.Clip(since), e))
	if err != nil || errNow != nil {
		return nil
	}
	for _, p := range was.Periods {
		if q := now.Period(p.No); q != nil && p.Status == books.Closed && !p.Variance.Equal(q.Variance) {
			list = append(list, Effect{p, p.Variance, q.Variance})
		}
	}
	return list
}
