package books_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
)

// correctBy corrects a record by a rule of the past or by that of now.
func (l *ledger) correctBy(rule books.Rule, target int64, in books.Record) {
	l.t.Helper()
	at := time.Date(2026, 11, 27, 9, 0, 0, 0, time.UTC)
	e := books.Entry{Machine: 1, Seq: l.m.Seq + 1, By: 1, Settings: 1, Recorded: at,
		Record: books.Record{Kind: books.Correction, Rule: rule, Target: target, Instead: &in, Happened: at,
			Reason: books.Misplaced}}
	m, _, err := l.m.CorrectOn(books.New(l.m.ID), l.entries, e)
	if err != nil {
		l.t.Fatal(err)
	}
	l.entries = append(l.entries, e)
	l.m = m
}

// loose is what the bank paid for nothing that is known.
func (l *ledger) loose() (sum int64) {
	for _, x := range l.m.Loose {
		sum += x.Value.IntPart()
	}
	return sum
}

// A slip of 1,200 is paid, with 50 of which nobody knows what for, and then moved to a day that
// began after the payment: it stays paid, and the 50 stay apart. By the rules of before what was
// paid fell among that which is for nothing known: 1,250.
func TestASlipMovedBehindItsPaymentStaysPaid(t *testing.T) {
	for rule, want := range map[books.Rule]struct{ owed, loose int64 }{
		0: {1200 + 200, 1250}, 1: {1200 + 200, 1250}, 2: {200, 50},
	} {
		l := newLedger(t)
		slip := l.sold(10, 20, 30) // 500 + 400 + 300
		l.post(credit(1250, part(books.Pays, slip, 1200), part(books.Unknown, 0, 50)))
		l.sold(0, 10, 0) // 200
		l.post(opening())
		in := l.entries[slip-1].Record
		in.Period = l.m.Open
		l.correctBy(rule, slip, in)
		if l.owes(want.owed); l.loose() != want.loose {
			t.Errorf("by rule %d are %d for nothing known, want %d", rule, l.loose(), want.loose)
		}
		l.refold(t)
	}
}

// A payment is corrected to be for a slip that was printed after it: it is. What came for it by
// then is told as such, and taken off what the slip is worth.
func TestAPaymentForALaterSlip(t *testing.T) {
	for rule, want := range map[books.Rule]struct{ owed, loose int64 }{
		0: {1200 + 200, 1200}, 1: {1200 + 200, 1200}, 2: {200, 0},
	} {
		l := newLedger(t)
		first := l.sold(0, 10, 0) // 200
		l.post(credit(1200, part(books.Pays, first, 1200)))
		paid := l.m.Seq
		later := l.sold(10, 20, 30)
		l.owes(200 - 1200 + 1200)
		l.correctBy(rule, paid, credit(1200, part(books.Pays, later, 1200)))
		if l.owes(want.owed); l.loose() != want.loose {
			t.Errorf("by rule %d are %d for nothing known, want %d", rule, l.loose(), want.loose)
		}
		l.refold(t)
		then, err := books.ThoseOn(books.New(1), l.entries, func(e books.Entry) bool { return e.Seq <= paid })
		if err != nil || len(then.Loose) != 1 || then.Loose[0].Value.IntPart() != 1200 {
			t.Errorf("by rule %d, when it came: %+v, %v", rule, then.Loose, err)
		}
	}
}

// Of a slip of 1,200 are 1,000 paid and 200 given up; then it turns out to be of less, of
// nothing, of a day that began only later, or never was. By hand: what stays given up.
func TestWhatWasGivenUpStaysSo(t *testing.T) {
	for name, s := range map[string]struct {
		to         func(l *ledger, slip int64) books.Record
		owed, left int64 // in all, and of the slip
		given      int64
	}{
		"less is due": {func(l *ledger, slip int64) books.Record {
			in := l.entries[slip-1].Record
			in.Figures = []books.Figure{kind(books.PaidOut, 1, 10), kind(books.PaidOut, 2, 20),
				kind(books.PaidOut, 3, 15)}
			return in // 500 + 400 + 150 = 1,050
		}, 1050 - 1000 - 200, 1050 - 1000 - 200, 200},
		"of a later day": {func(l *ledger, slip int64) books.Record {
			l.post(opening())
			in := l.entries[slip-1].Record
			in.Period = l.m.Open
			return in
		}, 0, 0, 200},
		"of nothing, on a later day": {func(l *ledger, slip int64) books.Record {
			l.post(opening())
			in := l.entries[slip-1].Record
			in.Period, in.Figures = l.m.Open, []books.Figure{kind(books.PaidOut, 1, 0)}
			return in // what was paid is for nothing known
		}, 0, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			l := newLedger(t)
			slip := l.sold(10, 20, 30)
			l.post(credit(1000, part(books.Pays, slip, 1000)))
			l.post(books.Record{Kind: books.WriteOff, Reason: books.TooSmall,
				Parts: []books.Part{part(books.GivenUp, slip, 200)}})
			in := s.to(l, slip)
			before := l.branch()
			e := books.Entry{Machine: 1, Seq: l.m.Seq + 1, Record: books.Record{Kind: books.Correction, Rule: 2,
				Target: slip, Instead: &in, Reason: books.Misplaced}}
			if _, _, err := before.m.CorrectOn(books.New(1), before.entries, e); err == nil {
				t.Error("by the rule of before it fits")
			}
			l.correctBy(3, slip, in)
			l.owes(s.owed)
			given := l.m.Money.GivenUp
			if c := l.m.Claim(slip); c != nil && !c.Left().Equal(money(s.left)) || !given.Equal(money(s.given)) {
				t.Errorf("%+v, given up %s, want %d", c, given, s.given)
			}
			l.refold(t)
		})
	}
	l := newLedger(t)
	slip := l.sold(10, 20, 30)
	l.post(books.Record{Kind: books.WriteOff, Reason: books.TooSmall,
		Parts: []books.Part{part(books.GivenUp, slip, 1200)}})
	if _, err := l.correct(slip, nil); err != nil {
		t.Fatal(err)
	}
	if l.owes(0); !l.m.Money.GivenUp.IsZero() {
		t.Errorf("%s is given up of a slip that never was", l.m.Money.GivenUp)
	}
	l.refold(t)
}
