package books

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// keepPayments bounds the payments kept at hand.
const keepPayments = 12

// Share says what a part of a bank's payment is for.
type Share string

// The shares. All but charges are above nothing when the bank pays and below
// when it takes.
const (
	Pays    Share = "pays"     // a settlement
	Charge  Share = "charge"   // taken off by the bank
	Fee     Share = "fee"      // the shop's own income from fees
	Extra   Share = "extra"    // more than is due
	Foreign Share = "foreign"  // another shop's money
	Unknown Share = "unknown"  // nobody knows yet
	Dispute Share = "dispute"  // taken for a customer's claim; the record's period is the day it is about
	GivenUp Share = "given-up" // not to be had any more: no money came for it
)

// Part is one part of a payment. The parts add up to the payment.
type Part struct {
	As    Share           `json:"as"`
	Of    int64           `json:"of,omitempty"` // the settlement, or the payment it was kept from
	Value decimal.Decimal `json:"value"`
}

// Claim is what the bank owes for one settlement.
type Claim struct {
	Seq     int64           `json:"seq"` // of the settlement
	Period  int64           `json:"period"`
	Day     shop.Date       `json:"day,omitempty"` // of trading
	Opened  time.Time       `json:"opened"`        // of the period
	Settled time.Time       `json:"settled"`
	On      shop.Date       `json:"on,omitempty"` // due date; empty: not known
	Value   decimal.Decimal `json:"value"`
	Back    decimal.Decimal `json:"back,omitzero"`  // taken off in it: cancelled payouts
	Tests   decimal.Decimal `json:"tests,omitzero"` // taken off in it: test notes
	Paid    decimal.Decimal `json:"paid"`           // with charges that were taken off
	GivenUp decimal.Decimal `json:"given_up,omitzero"`
	Part    bool            `json:"part,omitempty"` // what was paid out before the counters restarted is not in it
}

// Left is what is still to come; below nothing when too much came.
func (c *Claim) Left() decimal.Decimal { return c.Value.Sub(c.Paid).Sub(c.GivenUp) }

// Live reports whether money may still go for it: something is to come, too much came, or
// what was given up may come after all.
func (c *Claim) Live() bool { return !c.Left().IsZero() || !c.GivenUp.IsZero() }

// Worth is what a payment for it can be at most: what is still to come or, where
// nothing is, what was given up and comes after all.
func (c *Claim) Worth() decimal.Decimal {
	if left := c.Left(); left.IsPositive() {
		return left
	}
	return c.Left().Add(c.GivenUp)
}

// Loose is money of the bank that was paid for no settlement that is known.
type Loose struct {
	Seq      int64           `json:"seq"` // of the payment
	Happened time.Time       `json:"happened"`
	Day      shop.Date       `json:"day,omitempty"`
	As       Share           `json:"as"`
	Value    decimal.Decimal `json:"value"`
}

// Payment is one payment of the bank, or one that it took back: below nothing.
type Payment struct {
	Seq      int64           `json:"seq"`
	Happened time.Time       `json:"happened"`
	Day      shop.Date       `json:"day,omitempty"`
	Value    decimal.Decimal `json:"value"`
	Parts    []Part          `json:"parts"`
	Line     *shop.Line      `json:"line,omitempty"` // of the bank's statement it was booked from
}

// Money is all that went between shop and bank since the first record:
// Came = Paid + Fees + all that is loose - Charges - Disputed.
type Money struct {
	Claimed  decimal.Decimal `json:"claimed"`           // due for all settlements
	Came     decimal.Decimal `json:"came"`              // paid by the bank, less what it took
	Paid     decimal.Decimal `json:"paid"`              // of this for settlements
	Fees     decimal.Decimal `json:"fees"`              // the shop's own income
	Charges  decimal.Decimal `json:"charges"`           // taken off by the bank
	Disputed decimal.Decimal `json:"disputed"`          // taken for customers' claims
	GivenUp  decimal.Decimal `json:"given_up,omitzero"` // of what was due
}

// IsZero reports whether no money went and none is due.
func (m Money) IsZero() bool {
	for _, d := range []decimal.Decimal{m.Claimed, m.Came, m.Paid, m.Fees, m.Charges, m.Disputed, m.GivenUp} {
		if !d.IsZero() {
			return false
		}
	}
	return true
}

// DueFor is what the bank should credit for a settlement: paid out, less what
// was cancelled, less the test notes that it counts as paid out.
func DueFor(r Record, tests Notes) decimal.Decimal {
	var sum decimal.Decimal
	for _, a := range r.Amounts {
		if a.Field == Cancelled {
			a.Value = a.Value.Neg()
		}
		sum = sum.Add(a.Value)
	}
	var paid, back Notes
	for _, f := range r.Figures {
		switch f.Field {
		case PaidOut, LastSeen:
			paid.Plus(f.Face, f.Notes)
		case Cancelled:
			back.Plus(f.Face, f.Notes)
		}
	}
	return sum.Add(paid.Value()).Sub(back.Value()).Sub(tests.Value())
}

// Claim finds what is or was due for a settlement among the claims at hand, or nil.
func (m *Machine) Claim(settlement int64) *Claim {
	i := slices.IndexFunc(m.Claims, func(c Claim) bool { return c.Seq == settlement })
	if i < 0 {
		return nil
	}
	return &m.Claims[i]
}

// With gives books that have claims at hand besides those they had. The first
// stay as they are.
func (m *Machine) With(claims []Claim) *Machine {
	c := *m
	c.Claims = slices.Clone(m.Claims)
	for _, x := range claims {
		if c.Claim(x.Seq) == nil {
			c.Claims = append(c.Claims, x)
		}
	}
	slices.SortFunc(c.Claims, func(a, b Claim) int { return cmp.Compare(a.Seq, b.Seq) })
	return &c
}

// Needs lists the settlements whose claims a record is about: they must be at
// hand when it is posted, those that there are.
func (r *Record) Needs() []int64 {
	var of []int64
	parts := r.Parts
	if r.Instead != nil {
		parts = r.Instead.Parts
	}
	for _, p := range parts {
		if p.Of != 0 && (p.As == Pays || p.As == GivenUp) && !slices.Contains(of, p.Of) {
			of = append(of, p.Of)
		}
	}
	return of
}

// Due lists the claims at hand that are not paid in full, oldest first.
func (m *Machine) Due() []Claim {
	var list []Claim
	for _, c := range m.Claims {
		if c.Left().IsPositive() {
			list = append(list, c)
		}
	}
	return list
}

// ByBank is what the bank still owes for settlements, less what it paid too much on some.
func (m *Machine) ByBank() decimal.Decimal {
	return m.Money.Claimed.Sub(m.Money.Paid).Sub(m.Money.GivenUp)
}

func (m *Machine) claim(c Claim) {
	if c.Value.IsZero() {
		return
	}
	m.Claims = append(m.Claims, c)
	m.Money.Claimed = m.Money.Claimed.Add(c.Value)
}

// postMoney books a payment of the bank, one that it took back, or what an
// earlier one turned out to be for. No notes move.
func postMoney(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	value, err := paymentOf(e)
	if err != nil {
		return nil, err
	}
	m.notePayment(e, value)
	for _, p := range e.Parts {
		value = value.Sub(p.Value)
		if err := m.share(e, p); err != nil {
			return nil, err
		}
	}
	if !value.IsZero() {
		return nil, &Refusal{Code: PartsLeft, Value: value}
	}
	return nil, nil
}

// paymentOf is the money that came; below nothing when it went.
func paymentOf(e *Entry) (value decimal.Decimal, err error) {
	for _, a := range e.Amounts {
		came, went := e.Kind == Credit && a.Field == Credited, e.Kind == Debit && a.Field == Debited
		if came == went || !a.Value.IsPositive() {
			return value, &Refusal{Code: WrongAmount, Kind: e.Kind, Field: a.Field, Value: a.Value}
		}
		if went {
			a.Value = a.Value.Neg()
		}
		value = value.Add(a.Value)
	}
	if value.IsZero() == (e.Kind != Matched) {
		return value, &Refusal{Code: NoAmount, Kind: e.Kind, Value: value}
	}
	return value, nil
}

func (m *Machine) share(e *Entry, p Part) error {
	switch p.As {
	case Pays:
		m.settleClaim(e, p)
	case Charge:
		m.Money.Charges = m.Money.Charges.Sub(p.Value)
	case Fee:
		m.Money.Fees = m.Money.Fees.Add(p.Value)
	case Dispute:
		m.Money.Disputed = m.Money.Disputed.Sub(p.Value)
	case Extra, Foreign, Unknown:
		m.keepLoose(e, p)
	default:
		return fmt.Errorf("part of a payment of unknown kind %q", p.As)
	}
	return nil
}

// settleClaim takes what was paid off the claim. What is paid for a settlement
// that was taken back is kept apart.
func (m *Machine) settleClaim(e *Entry, p Part) {
	c := m.Claim(p.Of)
	if c == nil {
		m.keepLoose(e, Part{As: Unknown, Value: p.Value})
		return
	}
	m.Money.Paid = m.Money.Paid.Add(p.Value)
	c.Paid = c.Paid.Add(p.Value)
}

// postWriteOff gives up what the bank owes for settlements, or takes that back: no more than
// is left of each, and never without a reason. A correction never refuses one before it.
func postWriteOff(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	if e.Reason == "" {
		return nil, &Refusal{Code: NoReason}
	}
	if len(e.Parts) == 0 || len(e.Amounts) > 0 {
		return nil, &Refusal{Code: NoAmount, Kind: e.Kind}
	}
	for _, p := range e.Parts {
		c := m.Claim(p.Of)
		switch {
		case p.As == GivenUp && c == nil && m.lenient:
			continue
		case p.As != GivenUp || c == nil:
			return nil, &Refusal{Code: NoRecord, Entry: p.Of}
		case m.lenient:
		case p.Value.IsZero() || p.Value.GreaterThan(c.Left()) || c.GivenUp.Add(p.Value).IsNegative():
			return nil, &Refusal{Code: WrongAmount, Kind: e.Kind, Field: Credited, Value: p.Value}
		}
		m.forgo(c, p.Value)
	}
	return nil, nil
}

func (m *Machine) forgo(c *Claim, v decimal.Decimal) {
	c.GivenUp, m.Money.GivenUp = c.GivenUp.Add(v), m.Money.GivenUp.Add(v)
}

// keepLoose adds to what was kept of an earlier payment, or keeps a new one.
func (m *Machine) keepLoose(e *Entry, p Part) {
	seq := p.Of
	if seq == 0 {
		seq = e.Seq
	}
	i := slices.IndexFunc(m.Loose, func(l Loose) bool { return l.Seq == seq && (p.Of != 0 || l.As == p.As) })
	if i < 0 {
		m.Loose = append(m.Loose, Loose{Seq: seq, Happened: e.Happened, Day: e.Day, As: p.As})
		i = len(m.Loose) - 1
	}
	if m.Loose[i].Value = m.Loose[i].Value.Add(p.Value); m.Loose[i].Value.IsZero() {
		m.Loose = slices.Delete(m.Loose, i, i+1)
	}
}

// notePayment keeps a payment at hand.
func (m *Machine) notePayment(e *Entry, value decimal.Decimal) {
	m.Money.Came = m.Money.Came.Add(value)
	m.Payments = append(m.Payments,
		Payment{Seq: e.Seq, Happened: e.Happened, Day: e.Day, Value: value, Parts: e.Parts, Line: e.Line})
	if over := len(m.Payments) - keepPayments; over > 0 && !m.all {
		m.Payments = slices.Delete(m.Payments, 0, over)
	}
}
