package dues_test

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
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
		why    dues.Fitting
		of     []int64
	}{
		{2210, dues.FitsDue, []int64{a}},
		{1200, dues.FitsOther, []int64{b}},
		{2360, dues.FitsSeveral, []int64{a, c}},    // 2,210 + 150
		{3560, dues.FitsSeveral, []int64{a, b, c}}, // 2,210 + 1,200 + 150
		{4420, dues.FitsTwice, []int64{a}},         // 2 x 2,210
		{2170, dues.FitsBackOff, []int64{a}},       // 2,210 - 40
		{2250, dues.FitsBackIn, []int64{a}},        // 2,210 + 40
		{2160, dues.FitsTestsOff, []int64{a}},      // 2,210 - 50
		{2260, dues.FitsTestsIn, []int64{a}},       // 2,210 + 50
		{2203, dues.FitsCharge, []int64{a}},        // 2,210 - 7
		{2236, dues.FitsFee, []int64{a}},           // 2,210 + 26
		{2120, dues.FitsExchanged, []int64{a}},     // 2,210 with two digits exchanged
		{221, dues.FitsSlid, []int64{a}},           // 2,210 with a nought lost
	} {
		fits := dues.FitsFor(l.m, a, money(tc.amount), 2)
		if len(fits) == 0 || fits[0].Why != tc.why || !slices.Equal(fits[0].Of, tc.of) {
			t.Errorf("%d: %+v, want %s of %v", tc.amount, fits, tc.why, tc.of)
		}
	}
	for _, nothing := range []int64{2000, 2211, 1} {
		if fits := dues.FitsFor(l.m, a, money(nothing), 2); len(fits) > 0 {
			t.Errorf("%d: %+v", nothing, fits)
		}
	}
}

// owing is a ledger to which the bank owes these many fifties, one day each.
func owing(t *testing.T, fifties ...int64) (l *ledger, seqs []int64) {
	l = newLedger(t)
	for _, n := range fifties {
		seqs = append(seqs, l.sold(n, 0, 0))
	}
	return l, seqs
}

// A payment for several days: a run of days before others, the oldest before
// newer ones, and the day that was asked for always among them.
func TestFitsSeveral(t *testing.T) {
	l, of := owing(t, 2, 10, 2, 14, 6) // 100, 500, 100, 700, 300
	pick := func(days ...int) (list []int64) {
		for _, d := range days {
			list = append(list, of[d-1])
		}
		return list
	}
	for _, c := range []struct {
		asked  int // the day that the payment is meant for; 0: none
		amount int64
		want   []int64
	}{
		{0, 600, pick(1, 2)},           // the run 100 + 500, before 500 + 100 of days 2 and 3
		{0, 400, pick(1, 5)},           // 100 + 300, with the older of the two hundreds
		{3, 400, pick(3, 5)},           // the other hundred was asked for
		{4, 400, nil},                  // 700 alone is more than that
		{0, 700, pick(1, 2, 3)},        // 100 + 500 + 100
		{0, 800, pick(3, 4)},           // the run 100 + 700
		{2, 800, pick(2, 5)},           // 500 + 300
		{2, 400, nil},                  // only without it
		{0, 1700, pick(1, 2, 3, 4, 5)}, // all
		{0, 1650, nil},
	} {
		settlement := int64(0)
		if c.asked > 0 {
			settlement = of[c.asked-1]
		}
		var got []int64
		for _, f := range dues.FitsFor(l.m, settlement, money(c.amount), 2) {
			if f.Why == dues.FitsSeveral {
				got = f.Of
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%d meant for day %d: %v, want %v", c.amount, c.asked, got, c.want)
		}
	}
}

// A day that is paid already, or none in particular, binds nothing; one claim
// alone is not several.
func TestFitsForNoneInParticular(t *testing.T) {
	l, of := owing(t, 2, 10, 4) // 100, 500, 200
	l.post(credit(100, part(books.Pays, of[0], 100)))
	for _, settlement := range []int64{0, of[0], 99} {
		fits := dues.FitsFor(l.m, settlement, money(700), 2)
		if len(fits) != 1 || fits[0].Why != dues.FitsSeveral || !slices.Equal(fits[0].Of, of[1:]) {
			t.Errorf("700 meant for %d: %+v", settlement, fits)
		}
		fits = dues.FitsFor(l.m, settlement, money(500), 2)
		if len(fits) != 1 || fits[0].Why != dues.FitsOther || fits[0].Of[0] != of[1] {
			t.Errorf("500 meant for %d: %+v", settlement, fits)
		}
	}
	if fits := dues.FitsFor(l.m, of[1], money(500), 2); len(fits) != 1 || fits[0].Why != dues.FitsDue {
		t.Errorf("500 meant for itself: %+v", fits)
	}
}

// Runs are looked for among all days, any others among the newest twelve.
func TestFitsAmongManyDays(t *testing.T) {
	// Powers of three: no sum of some days is another's. 50 x 1 ... is too much for
	// a box of 40 fifties, so each day is told as one sum of money.
	l := newLedger(t)
	var of []int64
	for n, value := 0, int64(1); n < 14; n, value = n+1, value*3 {
		l.post(opening())
		no := l.m.Open
		l.post(left(no, 40, 150, 200))
		l.post(total(no, value, 0, 0))
		of = append(of, l.m.Seq)
		l.post(closing(no, books.Cash))
	}
	last := money(1594323)                  // 3 to the power of 13
	for day, want := range map[int][]int64{ // with the last day
		0: nil, 1: nil, 2: {of[2], of[13]}, 3: {of[3], of[13]}, 12: {of[12], of[13]},
	} {
		fits := dues.FitsFor(l.m, 0, last.Add(l.m.Claim(of[day]).Value), 2)
		var got []int64
		if len(fits) > 0 {
			got = fits[0].Of
		}
		if !slices.Equal(got, want) {
			t.Errorf("day %d and the last: %v, want %v", day, got, want)
		}
	}
	run := l.m.Claim(of[0]).Value.Add(l.m.Claim(of[1]).Value)
	if fits := dues.FitsFor(l.m, 0, run, 2); len(fits) != 1 || !slices.Equal(fits[0].Of, of[:2]) {
		t.Errorf("the two oldest: %+v", fits)
	}
}

// What explains a difference is told with the difference, below nothing when
// too little came; a guess fits to the cent or not at all.
func TestFitsTellTheDifference(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 40, 150, 200))
	l.post(total(1, 1000, 0, 30)) // 970 are due
	of := l.m.Seq
	for _, c := range []struct {
		amount string
		why    dues.Fitting
		value  string
	}{
		{"940", dues.FitsBackOff, "-30"}, {"1000", dues.FitsBackIn, "30"}, {"1940", dues.FitsTwice, "970"},
		{"790", dues.FitsExchanged, "-180"}, {"97", dues.FitsSlid, "-873"}, {"9700", dues.FitsSlid, "8730"},
		{"939.99", "", "0"}, {"1000.01", "", "0"}, {"907", dues.FitsExchanged, "-63"},
		{"709", "", "0"}, // 9 and 7, then 0: not two neighbours
	} {
		amount := decimal.RequireFromString(c.amount)
		fits := dues.FitsFor(l.m, of, amount, 2)
		if c.why == "" {
			if len(fits) > 0 {
				t.Errorf("%s: %+v", c.amount, fits)
			}
			continue
		}
		if len(fits) == 0 || fits[0].Why != c.why || fits[0].Value.String() != c.value {
			t.Errorf("%s: %+v, want %s of %s", c.amount, fits, c.why, c.value)
		}
	}
}

// What was paid too much for one day and kept off the payment for another: 500 were
// paid for Monday, of which 400 are due; 1,000 for Tuesday less those 100 are 900.
func TestLessWhatWasPaidTooMuch(t *testing.T) {
	l, of := owing(t, 8, 20) // 400, 1,000
	l.post(credit(500, part(books.Pays, of[0], 500)))
	line := dues.Line{Amount: money(900), Of: of[1:]}
	fits := line.Fits(l.m, 2, 2)
	if len(fits) == 0 || fits[0].Why != dues.FitsLessOver || !slices.Equal(fits[0].Of, of) ||
		!fits[0].Value.Equal(money(-100)) {
		t.Fatalf("900 of 1,000: %+v", fits)
	}
	line.Of = of
	if gap := line.Gap(l.m); !gap.IsZero() {
		t.Errorf("for both days %s is left over", gap)
	}
	l.post(credit(900, line.Paid(l.m, "")...))
	for _, c := range l.m.Claims {
		if !c.Left().IsZero() {
			t.Errorf("%s are left of %d", c.Left(), c.Seq)
		}
	}
}

// A payment that is near just one day is taken for it, within a tenth of what is due.
func TestNear(t *testing.T) {
	l, of := owing(t, 2, 10, 20) // 100, 500, 1,000
	for amount, want := range map[int64][]int64{
		450: of[1:2], 449: nil, 550: of[1:2], 551: nil, 1099: of[2:], 1101: nil, 95: of[:1], 300: nil,
		500: of[1:2], 600: of[:2], 601: nil,
	} {
		if got := dues.Suits(l.m, money(amount), 2); !slices.Equal(got, want) {
			t.Errorf("%d is taken for %v, want %v", amount, got, want)
		}
	}
}
