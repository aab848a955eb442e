// Package matching proposes which days the lines of a bank's statement pay for.
// It is pure and books nothing: a proposal is for a person to look at. What it
// calls sure is exact, within the shop's usual delay, and the only reading there
// is; everything that leaves room for another is offered, the best first.
package matching

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// Claim is what the bank owes for one settlement.
type Claim struct {
	Shop     shop.ID
	Machine  shop.MachineID
	Seq      int64     // of the settlement in the machine's ledger
	Day      shop.Date // it is told under
	Due      shop.Date // by when it should be paid; empty: no rule is known
	Left     decimal.Decimal
	Value    decimal.Decimal // as it was before anything was paid
	Currency string
}

// Booked is a payment that is in the books already; below nothing when the bank
// took it.
type Booked struct {
	Day      shop.Date
	Amount   decimal.Decimal
	Currency string
	Key      Key     // of the line it was booked from; zero: typed by a person
	Claims   []Claim // what it was for
}

// Facts are what is known beside the statement.
type Facts struct {
	Claims []Claim  // not paid in full
	Closed []Claim  // paid, of the last months: what a customer's claim may be about
	Booked []Booked // of the same account, or of the shops that it is tied to
	Payers []string // from whom payments came before, see [Payer]
	Slack  int      // banking days after the due one that are still usual; 0: one
	Fee    decimal.Decimal
}

// As says what a part of a line is.
type As string

// The parts. They are worded like the books' shares.
const (
	Pays    As = "pays"
	Fee     As = "fee"     // the shop's own income from fees
	Charge  As = "charge"  // taken off by the bank
	Dispute As = "dispute" // taken for a customer's claim
)

// Part is one part of a line. The parts of a proposal add up to its amount.
type Part struct {
	As    As
	Claim *Claim // nil where it is for none
	Value decimal.Decimal
}

// Why says what a proposal rests on.
type Why string

// The reasons, the strongest first.
const (
	Exact     Why = "exact"      // the sum of one day
	Named     Why = "named"      // of several days of one sum the one that its words name
	Several   Why = "several"    // the sum of several days
	Stated    Why = "stated"     // with the charges that the bank says it took off
	WithFee   Why = "fee"        // a day and a whole number of fees
	InParts   Why = "parts"      // a day that came in several payments
	More      Why = "more"       // a little more than a day: fee income?
	Less      Why = "less"       // a little less than a day: charges?
	TakenBack Why = "taken-back" // another line takes it back, or it takes one back
	Claimed   Why = "claimed"    // a customer's claim
)

// Proposal is what a line may be for.
type Proposal struct {
	Line   int
	Amount decimal.Decimal
	For    []*Claim // the days it is about, oldest first
	Parts  []Part   // what of the line is for what
	Why    Why
	Sure   bool
	Late   bool // outside the usual delay
	Same   bool // another day has the same sum
	Other  int  // InParts, TakenBack: the other line
	score  float64
}

// Outcome puts every line into one of four: matched surely, offered with one or
// more proposals, of no concern to the shop, or booked before.
type Outcome struct {
	Matched []Proposal
	Offered []Proposal // of a line the best first
	Foreign []int
	Seen    []int
}

// most bounds the offers for one line.
const most = 5

// Match proposes. It neither keeps nor changes what it is given.
func Match(lines []statement.Line, f Facts) Outcome {
	m := newMatcher(lines, f)
	m.explain()
	for _, l := range m.byDay {
		m.judge(l)
	}
	m.byName()
	return m.outcome()
}

// line is a line with what was found out about it.
type line struct {
	statement.Line
	value  decimal.Decimal // what was paid before charges that the bank states
	about  int64           // value's whole part, see [matcher.within]
	key    string          // of value
	payer  string
	seen   bool
	undone *line // the line that takes this one back, or that this one takes back
	found  []Proposal
}

// claim is a claim with which lines could pay it to the cent.
type claim struct {
	*Claim
	key   string         // of what is left
	exact map[*line]bool // by itself or with others
	near  []*line        // with fees or charges, in time, and they fit nothing to the cent
	gone  bool           // surely paid by a line
	end   shop.Date      // the last day on which a payment is nothing unusual
	about int64          // the whole part of what is left, see [matcher.within]
}

type matcher struct {
	Facts
	lines  []*line
	byDay  []*line
	claims []*claim // by day
	byLeft map[string][]*claim
	trust  map[string]bool
	words  map[shop.Date][]string // for a day
}

func newMatcher(lines []statement.Line, f Facts) *matcher {
	m := &matcher{Facts: f, byLeft: map[string][]*claim{}, trust: map[string]bool{},
		words: map[shop.Date][]string{}}
	if m.Slack == 0 {
		m.Slack = 1
	}
	for i := range f.Claims {
		if f.Claims[i].Left.IsPositive() {
			c := &claim{Claim: &f.Claims[i], key: sumKey(f.Claims[i].Left, f.Claims[i].Currency),
				exact: map[*line]bool{}, about: f.Claims[i].Left.IntPart()}
			c.end = m.usualEnd(c)
			m.claims = append(m.claims, c)
		}
	}
	slices.SortStableFunc(m.claims, func(a, b *claim) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Shop, b.Shop), cmp.Compare(a.Machine, b.Machine),
			cmp.Compare(a.Seq, b.Seq))
	})
	for _, c := range m.claims {
		m.byLeft[c.key] = append(m.byLeft[c.key], c)
	}
	seen := Seen(lines, f.Booked)
	for _, l := range lines {
		value := l.Amount.Add(l.Charges)
		m.lines = append(m.lines, &line{Line: l, value: value, about: value.IntPart(),
			key: sumKey(value, l.Currency), payer: Payer(l), seen: seen[l.No]})
	}
	m.byDay = slices.Clone(m.lines)
	slices.SortStableFunc(m.byDay, func(a, b *line) int { return cmp.Compare(a.Day, b.Day) })
	m.pairReturns()
	return m
}

func sumKey(d decimal.Decimal, currency string) string { return currency + d.String() }

// pays reports whether a line brings money that could be for a claim of its money.
func (l *line) pays() bool { return !l.seen && l.Amount.IsPositive() }

// may reports whether a line could pay for a claim at all: not before its day.
func (l *line) may(c *claim) bool { return l.Currency == c.Currency && l.Day >= c.Day }

// whole reports whether a line's amount is one of its money. Some files tell parts of the
// smallest coin; that is no sum of notes, and no books could take it.
func (l *line) whole() bool {
	c, err := cashmath.LookupCurrency(l.Currency)
	return err != nil || c.Holds(l.Amount)
}

func (m *matcher) outcome() Outcome {
	var o Outcome
	for _, l := range m.lines {
		switch {
		case l.seen:
			o.Seen = append(o.Seen, l.No)
		case len(l.found) == 0:
			o.Foreign = append(o.Foreign, l.No)
		case l.found[0].Sure:
			o.Matched = append(o.Matched, l.found[0])
		default:
			o.Offered = append(o.Offered, l.found[:min(len(l.found), most)]...)
		}
	}
	return o
}
