package books_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
)

func money(n int64) decimal.Decimal { return decimal.NewFromInt(n) }

func credit(value int64, parts ...books.Part) books.Record {
	return books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited,
		Value: money(value)}}, Parts: parts}
}

func debit(value int64, parts ...books.Part) books.Record {
	return books.Record{Kind: books.Debit, Amounts: []books.Amount{{Field: books.Debited,
		Value: money(value)}}, Parts: parts}
}

func part(as books.Share, of, value int64) books.Part {
	return books.Part{As: as, Of: of, Value: money(value)}
}

// sold is a day on which 50s, 20s and 10s were paid out; its settlement's number.
func (l *ledger) sold(fifties, twenties, tens int64) int64 {
	l.t.Helper()
	l.post(opening())
	no := l.m.Open
	l.post(books.Record{Kind: books.Count, Period: no, Figures: []books.Figure{
		fig(books.Remaining, 1, 40-fifties), fig(books.Remaining, 2, 150-twenties), fig(books.Remaining,
			3, 200-tens)}})
	l.post(books.Record{Kind: books.Settlement, Period: no, DueOn: "2026-11-26", Figures: []books.Figure{
		kind(books.PaidOut, 1, fifties), kind(books.PaidOut, 2, twenties), kind(books.PaidOut, 3, tens)}})
	settled := l.m.Seq
	l.post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
	return settled
}

func (l *ledger) owes(want int64) {
	l.t.Helper()
	if got := l.m.ByBank(); !got.Equal(money(want)) {
		l.t.Errorf("the bank owes %s, want %d", got, want)
	}
}

// The ways in which a bank pays, by hand: what is left after each stands beside it.
func TestPayments(t *testing.T) {
	l := newLedger(t)
	a := l.sold(10, 20, 30) // 500 + 400 + 300 = 1,200
	b := l.sold(0, 10, 0)   // 200
	l.owes(1400)
	if c := l.m.Claim(a); !c.Value.Equal(money(1200)) || c.On != "2026-11-26" {
		t.Fatalf("claim %+v", c)
	}
	l.post(credit(700, part(books.Pays, a, 700))) // a part of a
	l.owes(700)
	l.post(credit(695, part(books.Pays, a, 500), part(books.Pays, b, 200),
		part(books.Charge, b, -5))) // the rest and b, less a charge
	l.owes(0)
	l.post(credit(90, part(books.Fee, 0, 15), part(books.Extra, 0, 75))) // income, and too much
	l.post(debit(75, part(books.Extra, l.m.Seq, -75)))                   // which they take back
	if len(l.m.Loose) != 0 {
		t.Errorf("still loose: %+v", l.m.Loose)
	}
	l.post(debit(200, part(books.Pays, b, -200))) // b is taken back
	l.owes(200)
	l.post(books.Record{Kind: books.Debit, Period: 1,
		Amounts: []books.Amount{{Field: books.Debited, Value: money(50)}},
		Parts:   []books.Part{part(books.Dispute, 0, -50)}}) // a customer's claim
	l.post(credit(200, part(books.Unknown, 0, 200))) // for what?
	unknown := l.m.Seq
	l.owes(200)
	l.post(books.Record{Kind: books.Matched, Parts: []books.Part{part(books.Unknown, unknown, -200),
		part(books.Pays, b, 200)}})
	l.owes(0)
	m := l.m.Money
	for name, tc := range map[string]struct {
		got  decimal.Decimal
		want int64
	}{
		"claimed": {m.Claimed, 1400}, "came": {m.Came,
			700 + 695 + 90 - 75 - 200 - 50 + 200}, "paid": {m.Paid, 1400},
		"fees": {m.Fees, 15}, "charges": {m.Charges, 5}, "disputed": {m.Disputed, 50},
	} {
		if !tc.got.Equal(money(tc.want)) {
			t.Errorf("%s %s, want %d", name, tc.got, tc.want)
		}
	}
}

// Settlements that are no longer at hand are still owed, and may still be paid.
func TestOlderClaims(t *testing.T) {
	l := newLedger(t)
	first := l.sold(1, 0, 0) // 50
	for range 30 {
		l.sold(2, 0, 0) // 100
	}
	if l.m.Claim(first) != nil || len(l.m.Claims) > 24 {
		t.Fatalf("%d claims at hand", len(l.m.Claims))
	}
	l.owes(3050)
	l.post(credit(50, part(books.Pays, first, 50)))
	l.owes(3000)
	all, err := books.History(1, l.entries)
	if err != nil || len(all.Claims) != 31 || !all.ByBank().Equal(money(3000)) ||
		!all.Claim(first).Left().IsZero() {
		t.Errorf("looking back: %v, %d claims, %s owed", err, len(all.Claims), all.ByBank())
	}
	l.refold(t)
}

func TestPaymentsRefused(t *testing.T) {
	l := newLedger(t)
	a := l.sold(10, 20, 30)
	for name, r := range map[string]books.Record{
		"nothing":         credit(0),
		"does not add up": credit(100, part(books.Pays, a, 90)),
		"unknown share":   credit(100, part("gift", 0, 100)),
		"below nothing":   credit(-100, part(books.Pays, a, -100)),
		"debit as credit": {Kind: books.Debit,
			Amounts: []books.Amount{{Field: books.Credited, Value: money(1)}},
			Parts:   []books.Part{part(books.Charge, 0, -1)}},
		"match that pays": {Kind: books.Matched, Parts: []books.Part{part(books.Pays, a, 10)}},
	} {
		if _, err := l.try(r); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// Whatever the bank pays and takes, its money adds up: what came is what was
// paid for settlements, fees and all that is loose, less charges and disputes.
func TestMoneyAddsUp(t *testing.T) {
	checks.Rapid(t, 100, 2_000, 100_000, func(rt *rapid.T) {
		l := newLedger(t)
		claims := []int64{l.sold(1, 2, 3), l.sold(4, 0, 0), l.sold(0, 0, 9)}
		for range rapid.IntRange(1, 30).Draw(rt, "payments") {
			r := somePayment(rt, claims)
			if _, err := l.try(r); err != nil {
				rt.Fatalf("%+v: %v", r, err)
			}
			m, sum := l.m.Money, decimal.Zero
			for _, x := range l.m.Loose {
				sum = sum.Add(x.Value)
			}
			if want := m.Paid.Add(m.Fees).Add(sum).Sub(m.Charges).Sub(m.Disputed); !m.Came.Equal(want) {
				rt.Fatalf("came %s, accounted for %s", m.Came, want)
			}
			if !l.m.ByBank().Equal(m.Claimed.Sub(m.Paid)) {
				rt.Fatalf("owed %s, claimed %s and paid %s", l.m.ByBank(), m.Claimed, m.Paid)
			}
		}
		l.refold(rt)
	})
}

func somePayment(rt *rapid.T, claims []int64) books.Record {
	var parts []books.Part
	total := decimal.Zero
	for range rapid.IntRange(1, 3).Draw(rt, "parts") {
		p := part(rapid.SampledFrom([]books.Share{books.Pays, books.Pays, books.Charge, books.Fee,
			books.Extra,
			books.Foreign, books.Unknown, books.Dispute}).Draw(rt, "as"),
			0, rapid.Int64Range(-500, 500).Draw(rt, "value"))
		if p.As == books.Pays {
			p.Of = rapid.SampledFrom(append(claims, 999)).Draw(rt, "claim")
		}
		total, parts = total.Add(p.Value), append(parts, p)
	}
	switch total.Sign() {
	case 1:
		return credit(total.IntPart(), parts...)
	case -1:
		return debit(-total.IntPart(), parts...)
	}
	return books.Record{Kind: books.Matched, Parts: parts}
}
