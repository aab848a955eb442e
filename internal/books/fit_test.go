package books_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
)

// Each amount is made from what is due by hand; the sum stands beside it.
func TestFits(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Tray, Marks: []books.Mark{books.Counted},
		Figures: []books.Figure{fig(books.Tried, 1, 1)}})
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{
		fig(books.Remaining, 1, 20), fig(books.Remaining, 2, 100), fig(books.Remaining, 3,
			170), kind(books.Refused, 1, 1)}})
	l.post(books.Record{Kind: books.Settlement, Period: 1, Figures: []books.Figure{
		kind(books.PaidOut, 1, 20), kind(books.PaidOut, 2, 50), kind(books.PaidOut, 3,
			30), kind(books.Cancelled, 2, 2)}})
	a := l.m.Seq // 1,000 + 1,000 + 300, less 40 cancelled and 50 tried: 2,210
	l.post(books.Record{Kind: books.Close, Period: 1, Where: books.Cash})
	b := l.sold(10, 20, 30) // 1,200
	c := l.sold(3, 0, 0)    // 150
	l.post(credit(19, part(books.Fee, 0, 26), part(books.Charge, 0, -7)))
	for _, tc := range []struct {
		amount int64
		why    books.Fitting
		of     []int64
	}{
		{2210, books.FitsDue, []int64{a}},
		{1200, books.FitsOther, []int64{b}},
		{2360, books.FitsSeveral, []int64{a, c}},    // 2,210 + 150
		{3560, books.FitsSeveral, []int64{a, b, c}}, // 2,210 + 1,200 + 150
		{4420, books.FitsTwice, []int64{a}},         // 2 x 2,210
		{2170, books.FitsBackOff, []int64{a}},       // 2,210 - 40
		{2250, books.FitsBackIn, []int64{a}},        // 2,210 + 40
		{2160, books.FitsTestsOff, []int64{a}},      // 2,210 - 50
		{2260, books.FitsTestsIn, []int64{a}},       // 2,210 + 50
		{2203, books.FitsCharge, []int64{a}},        // 2,210 - 7
		{2236, books.FitsFee, []int64{a}},           // 2,210 + 26
		{2120, books.FitsExchanged, []int64{a}},     // 2,210 with two digits exchanged
		{221, books.FitsSlid, []int64{a}},           // 2,210 with a nought lost
	} {
		fits := l.m.FitsFor(a, money(tc.amount), 2)
		if len(fits) == 0 || fits[0].Why != tc.why || !slices.Equal(fits[0].Of, tc.of) {
			t.Errorf("%d: %+v, want %s of %v", tc.amount, fits, tc.why, tc.of)
		}
	}
	for _, nothing := range []int64{2000, 2211, 1} {
		if fits := l.m.FitsFor(a, money(nothing), 2); len(fits) > 0 {
			t.Errorf("%d: %+v", nothing, fits)
		}
	}
}
