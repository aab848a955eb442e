package matching

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/statement"
)

// keepLines is how many lines are matched with all that could be; a shop's
// account has some hundred a month.
const keepLines = 1500

// Sieve collects the lines of a statement that are worth matching, so that a
// file of any length costs little memory. Of a very long one it keeps those
// whose sum is that of days owed, to the cent; all others are foreign.
type Sieve struct {
	kept   []statement.Line
	sums   map[string]bool
	rough  map[int64]bool // the same without their money: what is not here need not be looked for
	strict bool
	facts  Facts
}

// NewSieve makes one for what is owed.
func NewSieve(f Facts) *Sieve { return &Sieve{facts: f} }

// Add takes in a line.
func (s *Sieve) Add(l statement.Line) {
	if s.strict && !s.worth(l) {
		return
	}
	if s.kept = append(s.kept, l); len(s.kept) < keepLines || s.strict {
		return
	}
	s.tighten()
}

// Lines are those that are worth matching, at most twice as many as are kept.
func (s *Sieve) Lines() []statement.Line { return s.kept[:min(len(s.kept), 2*keepLines)] }

// tighten goes on with exact sums only.
func (s *Sieve) tighten() {
	s.strict, s.sums, s.rough = true, map[string]bool{}, map[int64]bool{}
	m := newMatcher(nil, s.facts)
	for _, part := range groups(m.claims) {
		for i := range part {
			sum := decimal.Zero
			for _, c := range part[i:min(i+longest, len(part))] {
				sum = sum.Add(c.Left)
				s.sum(sum, c.Currency)
			}
		}
	}
	for _, b := range s.facts.Booked {
		s.sum(b.Amount, b.Currency)
	}
	kept := s.kept
	s.kept = make([]statement.Line, 0, keepLines/10)
	for _, l := range kept {
		if s.worth(l) {
			s.kept = append(s.kept, l)
		}
	}
}

func (s *Sieve) sum(d decimal.Decimal, currency string) {
	s.sums[sumKey(d, currency)] = true
	v, _ := roughly(d.Round(-finest))
	s.rough[v] = true
}

// finest is the digit to which amounts are compared roughly.
const finest = -5

// roughly is how much an amount is in hundred-thousandths, whichever way it goes; what is too
// much is the same wherever it is. It fails for one that has parts of these.
func roughly(d decimal.Decimal) (int64, bool) {
	v, exp := d.CoefficientInt64(), d.Exponent()
	if v < 0 {
		v = -v
	}
	for ; exp > finest; exp-- {
		v *= 10
	}
	return v, exp == finest
}

// worth reports whether a line is the sum of days owed, or takes such a sum back.
func (s *Sieve) worth(l statement.Line) bool {
	if len(s.kept) >= 2*keepLines || len(s.sums) == 0 {
		return false
	}
	if v, ok := roughly(l.Amount); ok && l.Charges.IsZero() && !s.rough[v] {
		return false
	}
	value := l.Amount.Add(l.Charges).Abs()
	return s.sums[sumKey(value, l.Currency)] || !value.Equal(l.Amount) && s.sums[sumKey(l.Amount, l.Currency)]
}
