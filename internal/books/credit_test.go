package books_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
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

// A claim lives until it is settled, however many came after it.
func TestOldClaims(t *testing.T) {
	l := newLedger(t)
	first := l.sold(1, 0, 0) // 50
	for range 30 {
		l.sold(2, 0, 0) // 100
	}
	l.owes(3050)
	l.post(credit(50, part(books.Pays, first, 50)))
	l.owes(3000)
	if due := l.m.Due(); len(due) != 30 || !l.m.Claim(first).Left().IsZero() {
		t.Errorf("%d are due, %s of the first", len(due), l.m.Claim(first).Left())
	}
	l.refold(t)
}

// A record is posted alike whether all claims are at hand or only those that it is about.
func TestClaimsNeeded(t *testing.T) {
	l := newLedger(t)
	a, b := l.sold(1, 0, 0), l.sold(2, 0, 0)
	r := credit(120, part(books.Pays, b, 100), part(books.Pays, a, 15), part(books.Fee, 0, 5))
	if of := r.Needs(); !slices.Equal(of, []int64{b, a}) {
		t.Fatalf("needs %v", of)
	}
	few := l.m.Clone()
	few.Claims = nil
	few = few.With([]books.Claim{*l.m.Claim(b), *l.m.Claim(a)})
	l.post(r)
	if _, err := few.Post(l.entries[len(l.entries)-1]); err != nil {
		t.Fatal(err)
	}
	if !few.ByBank().Equal(l.m.ByBank()) || !few.Claim(a).Left().Equal(money(35)) ||
		!few.Claim(b).Left().IsZero() {
		t.Errorf("%s owed, want %s; %+v", few.ByBank(), l.m.ByBank(), few.Claims)
	}
	without := l.m.Clone()
	without.Claims = nil
	if body, err := json.Marshal(without); err != nil || !sameState(l.m, body) {
		t.Errorf("claims are part of the running state: %v", err)
	}
}

func (l *ledger) refuse(r books.Record, want books.Code) {
	l.t.Helper()
	_, err := l.try(r)
	if no, ok := errors.AsType[*books.Refusal](err); !ok || no.Code != want {
		l.t.Errorf("%v, want %s", err, want)
	}
}

func sameState(m *books.Machine, body []byte) bool {
	b, err := json.Marshal(m)
	return err == nil && bytes.Equal(b, body)
}

// What will not come any more is given up with a reason, in part too, and that
// can be taken back; never more than is left.
func TestWriteOff(t *testing.T) {
	l := newLedger(t)
	a := l.sold(2, 0, 0) // 100
	giveUp := func(value int64) books.Record {
		return books.Record{Kind: books.WriteOff, Reason: books.Other,
			Parts: []books.Part{part(books.GivenUp, a, value)}}
	}
	l.post(credit(60, part(books.Pays, a, 60)))
	l.refuse(giveUp(41), books.WrongAmount)
	l.refuse(giveUp(-1), books.WrongAmount)
	l.refuse(books.Record{Kind: books.WriteOff, Parts: giveUp(40).Parts}, books.NoReason)
	l.refuse(books.Record{Kind: books.WriteOff, Reason: books.Other,
		Parts: []books.Part{part(books.Pays, a, 4)}},
		books.NoRecord)
	l.post(giveUp(40))
	l.owes(0)
	if len(l.m.Due()) != 0 {
		t.Errorf("due %+v", l.m.Due())
	}
	l.post(giveUp(-40))
	l.owes(40)
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

// A slip of amounts: paid out and from before the restart, less what was
// cancelled, less the test notes. 1,000 + 200 - 40 - 2 x 20 = 1,120.
func TestDueForAmounts(t *testing.T) {
	got := books.DueFor(total(1, 1000, 200, 40), books.Notes{"20": 2})
	if !got.Equal(money(1120)) {
		t.Errorf("due %s, want 1120", got)
	}
	notes := paid(1, 1, 2, 3) // 50 + 40 + 30
	notes.Figures = append(notes.Figures, kind(books.LastSeen, 1, 1), kind(books.Cancelled, 2, 1))
	if got := books.DueFor(notes, nil); !got.Equal(money(150)) { // 120 + 50 - 20
		t.Errorf("due %s, want 150", got)
	}
}

// A slip of which nothing is due makes no claim, however it comes to nothing.
func TestNoClaimForNothing(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(paid(1, 0, 0, 0))
	l.post(total(1, 40, 0, 40))
	if len(l.m.Claims) != 0 || !l.m.Money.IsZero() {
		t.Errorf("claims %+v", l.m.Claims)
	}
}

// Money that is for nothing known is kept by its kind; what an earlier payment
// left over is found by that payment, whatever it is called later.
func TestLooseMoney(t *testing.T) {
	l := newLedger(t)
	l.post(credit(100, part(books.Extra, 0, 60), part(books.Foreign, 0, 30), part(books.Extra, 0, 10)))
	l.post(credit(7, part(books.Extra, 0, 7)))
	loose := func() (list []string) {
		for _, x := range l.m.Loose {
			list = append(list, string(x.As)+" "+x.Value.String())
		}
		return list
	}
	if got := loose(); !slices.Equal(got, []string{"extra 70", "foreign 30", "extra 7"}) {
		t.Fatalf("loose %v", got)
	}
	l.post(debit(20, part(books.Unknown, 1, -20))) // of the first payment's rest
	if got := loose(); !slices.Equal(got, []string{"extra 50", "foreign 30", "extra 7"}) {
		t.Errorf("after 20 went back: %v", got)
	}
	l.post(debit(57, part(books.Extra, 2, -7), part(books.Extra, 1, -50)))
	if got := loose(); !slices.Equal(got, []string{"foreign 30"}) {
		t.Errorf("after the rest went back: %v", got)
	}
}

// Money for a settlement that is not there is kept apart.
func TestPaymentForNoSettlement(t *testing.T) {
	l := newLedger(t)
	a := l.sold(1, 0, 0)
	for _, of := range []int64{0, 99} {
		l.post(credit(5, part(books.Pays, of, 5)))
	}
	if len(l.m.Loose) != 2 || l.m.Loose[0].As != books.Unknown || !l.m.Money.Paid.IsZero() {
		t.Fatalf("loose %+v, paid %s", l.m.Loose, l.m.Money.Paid)
	}
	if due := l.m.Due(); len(due) != 1 || due[0].Seq != a {
		t.Errorf("due %+v", due)
	}
}

// The last twelve payments are at hand; looking back, all.
func TestPaymentsAtHand(t *testing.T) {
	l := newLedger(t)
	for n := range int64(14) {
		l.post(credit(n+1, part(books.Fee, 0, n+1)))
		if want := min(int(n)+1, 12); len(l.m.Payments) != want {
			t.Fatalf("%d payments at hand after %d", len(l.m.Payments), n+1)
		}
	}
	if l.m.Payments[0].Seq != 3 || !l.m.Payments[11].Value.Equal(money(14)) {
		t.Errorf("at hand %+v", l.m.Payments)
	}
	if all, err := books.History(1, l.entries); err != nil || len(all.Payments) != 14 {
		t.Errorf("looking back: %v, %d payments", err, len(all.Payments))
	}
}

// A claim that was paid too much lessens what the bank owes, and is not due.
func TestPaidTooMuch(t *testing.T) {
	l := newLedger(t)
	a, b := l.sold(10, 0, 0), l.sold(4, 0, 0) // 500, 200
	l.post(credit(530, part(books.Pays, a, 530)))
	l.owes(170) // 200 - 30
	if due := l.m.Due(); len(due) != 1 || due[0].Seq != b || !l.m.Claim(a).Left().Equal(money(-30)) {
		t.Errorf("due %+v", due)
	}
}
