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
	m, _, err := l.m.Correct(l.entries, e)
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
		then, err := books.Those(1, l.entries, func(e books.Entry) bool { return e.Seq <= paid })
		if err != nil || len(then.Loose) != 1 || then.Loose[0].Value.IntPart() != 1200 {
			t.Errorf("by rule %d, when it came: %+v, %v", rule, then.Loose, err)
		}
	}
}
