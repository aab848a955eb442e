package dues

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// Line is money that the bank paid, took or will not pay, as far as it is known what
// it is.
type Line struct {
	Amount  decimal.Decimal `json:"amount,omitzero"`
	Of      []int64         `json:"of,omitempty"`     // the settlements it is for, oldest first
	Whole   books.Share     `json:"whole,omitempty"`  // what it is if it is for no settlement
	Charged decimal.Decimal `json:"charged,omitzero"` // taken off in the same line
	Fee     decimal.Decimal `json:"fee,omitzero"`     // the shop's own income in the same line
	Ref     string          `json:"ref,omitempty"`    // the bank's own reference
}

// Loose stands in a line for money that is there and for nothing known.
const Loose books.Share = "loose"

// Means says what the gap of a payment is.
type Means string

// What it can be. Nothing of these is a part that is still to come, or not known.
const (
	IsCharge Means = "charge"
	IsFee    Means = "fee"
	IsExtra  Means = "extra"
)

// Net is what the line pays for settlements at most.
func (l *Line) Net() decimal.Decimal { return l.Amount.Add(l.Charged).Sub(l.Fee) }

// Worth is what a payment for its settlements can be at most.
func (l *Line) Worth(m *books.Machine) (sum decimal.Decimal) {
	for _, x := range m.ClaimsOf(l.Of) {
		sum = sum.Add(x.Worth())
	}
	return sum
}

// Left is what is still to come for its settlements.
func (l *Line) Left(m *books.Machine) (sum decimal.Decimal) {
	for _, x := range m.ClaimsOf(l.Of) {
		sum = sum.Add(x.Left())
	}
	return sum
}

// Gap is what came more than is due; below nothing when it is less, and nothing
// where it is for no settlement.
func (l *Line) Gap(m *books.Machine) decimal.Decimal {
	if l.Whole != "" {
		return decimal.Zero
	}
	return l.Net().Sub(l.Worth(m))
}

// Fits lists the first of what it, or its gap, is exactly.
func (l *Line) Fits(m *books.Machine, digits, most int) []Fit {
	if len(l.Of) == 0 {
		return nil
	}
	fits := FitsFor(m, l.Of[0], l.Net(), digits)
	return fits[:min(len(fits), most)]
}

// shares collects the parts of a line.
type shares struct {
	list []books.Part
	rest decimal.Decimal
}

func (s *shares) add(as books.Share, of int64, v decimal.Decimal) {
	if !v.IsZero() {
		s.list, s.rest = append(s.list, books.Part{As: as, Of: of, Value: v}), s.rest.Sub(v)
	}
}

// Paid shares a payment out: the settlements oldest first, then what the gap was
// said to be.
func (l *Line) Paid(m *books.Machine, gap Means) []books.Part {
	if l.Whole != "" {
		return []books.Part{{As: l.Whole, Value: l.Amount}}
	}
	charged, fee, over := l.Charged, l.Fee, books.Unknown
	switch gap {
	case IsCharge:
		charged = charged.Sub(l.Gap(m))
	case IsFee:
		fee = fee.Add(l.Gap(m))
	case IsExtra:
		over = books.Extra
	}
	s := shares{rest: l.Amount.Add(charged).Sub(fee)}
	for _, x := range m.ClaimsOf(l.Of) {
		pays := decimal.Min(s.rest, x.Worth())
		if pays.IsNegative() && len(l.Of) < 2 {
			continue
		}
		s.add(books.Pays, x.Seq, pays) // below nothing: what was paid too much was kept off the others
	}
	s.add(over, 0, s.rest)
	if n := len(l.Of); n > 0 {
		s.add(books.Charge, l.Of[n-1], charged.Neg())
	}
	s.add(books.Fee, 0, fee)
	return s.list
}

// Taken shares out what the bank took: what was paid too much last comes first.
func (l *Line) Taken(m *books.Machine) []books.Part {
	s := shares{rest: l.Amount.Neg()}
	take := func(as books.Share, of int64, most decimal.Decimal) {
		if v := decimal.Min(s.rest.Neg(), most); v.IsPositive() {
			s.add(as, of, v.Neg())
		}
	}
	switch l.Whole {
	case books.Charge, books.Dispute:
		take(l.Whole, 0, l.Amount)
	case Loose:
		for _, x := range slices.Backward(m.Loose) {
			take(x.As, x.Seq, x.Value)
		}
	default:
		for _, x := range m.ClaimsOf(l.Of) {
			take(books.Pays, x.Seq, x.Paid)
		}
	}
	take(books.Unknown, 0, l.Amount)
	return s.list
}

// Forgone shares out what is given up, oldest first: all that is left of the
// settlements unless a sum was said.
func (l *Line) Forgone(m *books.Machine) (parts []books.Part, sum decimal.Decimal) {
	for _, x := range m.ClaimsOf(l.Of) {
		v := x.Left()
		if !l.Amount.IsZero() {
			v = decimal.Min(v, l.Amount.Sub(sum))
		}
		if v.IsPositive() {
			parts, sum = append(parts, books.Part{As: books.GivenUp, Of: x.Seq, Value: v}), sum.Add(v)
		}
	}
	return parts, sum
}

// Overgiven takes back that more was given up than is left to pay by now: less is due, or
// more was paid, than was on record.
func Overgiven(claims []books.Claim) (back []books.Part) {
	for _, x := range claims {
		if over := decimal.Max(x.Left(), x.GivenUp.Neg()); over.IsNegative() && x.GivenUp.IsPositive() {
			back = append(back, books.Part{As: books.GivenUp, Of: x.Seq, Value: over})
		}
	}
	return back
}

// AfterAll takes back that money was given up, of which parts of a payment say that
// it comes.
func AfterAll(m *books.Machine, parts []books.Part) (back []books.Part) {
	for _, p := range parts {
		x := m.Claim(p.Of)
		if p.As != books.Pays || x == nil || !p.Value.GreaterThan(x.Left()) || !x.GivenUp.IsPositive() {
			continue
		}
		v := decimal.Min(x.GivenUp, p.Value.Sub(x.Left()))
		back = append(back, books.Part{As: books.GivenUp, Of: p.Of, Value: v.Neg()})
	}
	return back
}
