package matching

import (
	"cmp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// judge finds what a line may be for, and whether there is no doubt.
func (m *matcher) judge(l *line) {
	switch {
	case l.seen, l.Amount.IsZero(), !l.whole():
	case l.undone != nil:
		m.takenBack(l)
	case l.Amount.IsNegative():
		m.debit(l)
	default:
		m.payment(l)
	}
	slices.SortStableFunc(l.found, func(a, b Proposal) int { return cmp.Compare(a.score, b.score) })
	if len(l.found) > most { // no others are offered, and thousands of lines may have hundreds each
		l.found = slices.Clone(l.found[:most])
	}
}

func (m *matcher) payment(l *line) {
	list := m.exact(l)
	if len(list) > 0 && m.sure(l, list) {
		m.propose(l, list[0])
		l.found[0].Sure = true
		for _, c := range list[0].claims {
			c.gone = true
		}
		return
	}
	m.offers(l)
}

// offers proposes what a line may be for where there is doubt.
func (m *matcher) offers(l *line) {
	list := m.exact(l)
	for _, r := range list {
		m.propose(l, r)
	}
	if len(m.Payers) > 0 && !m.trust[l.payer] && len(list) == 0 {
		return // of somebody else, and no sum fits
	}
	open := m.open(l)
	m.aboutOne(l, open)
	if m.trust[l.payer] || !m.anyTrust() {
		m.aboutSeveral(l, open)
		m.inParts(l, open)
	}
	if m.either(l, list) {
		l.found = slices.DeleteFunc(l.found, func(p Proposal) bool { return p.Why == More || p.Why == Less })
	}
}

// either reports whether a line is, to the cent and in time, the sum of one of several days:
// then it is one of these, and not another with something added or taken off.
func (m *matcher) either(l *line, list []reading) bool {
	days := 0
	for _, r := range list {
		if len(r.claims) == 1 && m.inTime(l.Day, r.claims[0]) {
			days++
		}
	}
	return days > 1
}

func (m *matcher) anyTrust() bool {
	for _, t := range m.trust {
		if t {
			return true
		}
	}
	return false
}

// propose adds a reading that is right to the cent.
func (m *matcher) propose(l *line, r reading) {
	p := Proposal{Line: l.No, Amount: l.Amount, Why: Exact}
	if len(r.claims) > 1 {
		p.Why, p.score = Several, 1
		if !r.run {
			p.score = 2.5
		}
	}
	for _, c := range r.claims {
		p.Parts = append(p.Parts, Part{As: Pays, Claim: c.Claim, Value: c.Left})
	}
	if !l.Charges.IsZero() {
		p.Why = Stated
		p.Parts = append(p.Parts, Part{As: Charge, Value: l.Charges.Neg()})
	}
	m.weigh(l, &p, r.claims)
	p.Same = len(r.claims) == 1 && m.twins(l, r.claims[0]) > 0
	l.found = append(l.found, p)
}

// weigh adds to a proposal's score what speaks against it.
func (m *matcher) weigh(l *line, p *Proposal, claims []*claim) {
	named := 0
	for _, c := range claims {
		p.For = append(p.For, c.Claim)
		late := m.daysLate(l.Day, c)
		p.Late = p.Late || late > 0
		p.score += 0.3 * float64(min(late, 30)) / float64(len(claims))
		off := between(m.dueFrom(c), l.Day)
		if off < 0 {
			p.score += 0.4 / float64(len(claims))
		}
		p.score += 0.06 * float64(min(max(off, -off), 10)) / float64(len(claims))
		if m.mentions(l, c.Day) {
			named++
		}
		if others := len(c.exact); others > 1 || others == 1 && !c.exact[l] {
			p.score += 0.5 / float64(len(claims))
		}
	}
	if named == len(claims) {
		p.score -= 1.5
	}
	if !m.trust[l.payer] {
		p.score += 2
	}
}

// twins counts the other claims of the same sum that a line could pay.
func (m *matcher) twins(l *line, c *claim) (n int) {
	for _, o := range m.byLeft[c.key] {
		if o != c && !o.gone && l.may(o) {
			n++
		}
	}
	return n
}

// sure reports whether the only exact reading leaves no doubt: from the one who
// pays, all within the usual delay, no other line that could be meant for the
// same days, and no other day of which it could be with fees, charges or parts.
func (m *matcher) sure(l *line, list []reading) bool {
	if len(list) != 1 || !list[0].run || !m.trust[l.payer] {
		return false
	}
	r := list[0]
	for _, c := range r.claims {
		if !m.inTime(l.Day, c) || m.contested(l, c) {
			return false
		}
	}
	return !m.otherwise(l, r)
}

// contested reports whether another line could be meant for a claim: one that
// has no claim of its own.
func (m *matcher) contested(l *line, c *claim) bool {
	for o := range c.exact {
		if o == l || !m.trust[o.payer] || len(o.found) > 0 && o.found[0].Sure {
			continue
		}
		if !m.elsewhere(o, c) {
			return true
		}
	}
	return false
}

// elsewhere reports whether a line pays a claim other than this one to the cent.
func (m *matcher) elsewhere(o *line, c *claim) bool {
	for _, x := range m.byLeft[o.key] {
		if x != c && !x.gone && o.may(x) && m.inTime(o.Day, x) {
			return true
		}
	}
	return false
}

// otherwise reports whether a line may also be for a day that no other line pays:
// one that is due, with fees or charges, together with others, or in parts.
func (m *matcher) otherwise(l *line, r reading) bool {
	var due []*claim
	for _, c := range m.open(l) {
		lone := len(c.exact) == 0 || len(c.exact) == 1 && c.exact[l]
		if !slices.Contains(r.claims, c) && lone && !m.hasOwn(c, l) && l.Day >= m.dueFrom(c) {
			due = append(due, c)
		}
	}
	sums := m.partners(l)
	for _, c := range due {
		part := slices.ContainsFunc(sums, func(t together) bool { return t.is(c.Left, c.about) })
		if part || m.within(l.about, c.about) && (m.close(l, c.Left) || m.fees(l, c.Left)) {
			return true
		}
	}
	return len(m.several(l, due, func(sum decimal.Decimal) bool { return m.close(l, sum) })) > 0
}

// aboutOne offers days from which a line differs by fees or charges.
func (m *matcher) aboutOne(l *line, open []*claim) {
	for _, c := range open {
		p := Proposal{Line: l.No, Amount: l.Amount, Parts: []Part{{As: Pays, Claim: c.Claim, Value: c.Left}}}
		if !m.within(l.about, c.about) || !m.differ(l, &p, c.Left) {
			continue
		}
		m.weigh(l, &p, []*claim{c})
		if len(c.exact) > 0 {
			p.score += 2
		}
		if m.trust[l.payer] || !m.anyTrust() || p.Why == WithFee {
			l.found = append(l.found, p)
		}
	}
}

// differ fills in what a line is more or less than a sum.
func (m *matcher) differ(l *line, p *Proposal, sum decimal.Decimal) bool {
	rest := l.Amount.Sub(sum)
	switch {
	case m.fees(l, sum) && l.Charges.IsZero():
		p.Why, p.score = WithFee, 1.5
		p.Parts = append(p.Parts, Part{As: Fee, Value: rest})
	case !m.close(l, sum):
		return false
	case rest.IsPositive():
		p.Why, p.score = More, 3
		p.Parts = append(p.Parts, Part{As: Fee, Value: rest})
	default:
		p.Why, p.score = Less, 3
		p.Parts = append(p.Parts, Part{As: Charge, Value: rest})
	}
	ratio, _ := rest.Abs().Div(sum).Float64() // for the order of offers only
	p.score += 30 * ratio
	return true
}

// aboutSeveral offers days one after the other of whose sum that is so.
func (m *matcher) aboutSeveral(l *line, open []*claim) {
	open = slices.DeleteFunc(slices.Clone(open), func(c *claim) bool { return len(c.exact) > 0 })
	fits := func(sum decimal.Decimal) bool { return m.close(l, sum) || m.fees(l, sum) }
	for _, r := range m.several(l, open, fits) {
		p := Proposal{Line: l.No, Amount: l.Amount}
		for _, c := range r.claims {
			p.Parts = append(p.Parts, Part{As: Pays, Claim: c.Claim, Value: c.Left})
		}
		m.differ(l, &p, r.sum)
		p.score += 1
		if !r.run {
			p.score += 2
		}
		m.weigh(l, &p, r.claims)
		l.found = append(l.found, p)
	}
}

// fitsAlone reports whether some claim is a line's sum to the cent.
func (m *matcher) fitsAlone(l *line) bool {
	return slices.ContainsFunc(m.byLeft[l.key], l.may)
}

// likely reports whether a line is like a day that is due, with fees or charges.
func (m *matcher) likely(l *line) bool { return len(m.alike(l)) > 0 }

// alike lists the days that are due and like a line, with fees or charges.
func (m *matcher) alike(l *line) []*claim {
	return slices.DeleteFunc(m.open(l), func(c *claim) bool {
		return !m.inTime(l.Day, c) || !m.within(l.about, c.about) || !m.close(l, c.Left) && !m.fees(l, c.Left)
	})
}

// hasOwn reports whether another line of whoever pays, which fits nothing to the cent, is
// like a day: then that is the one for it.
func (m *matcher) hasOwn(c *claim, l *line) bool {
	return slices.ContainsFunc(c.near, func(o *line) bool { return o != l && m.trust[o.payer] })
}

// pairReturns finds lines that take an earlier one back: the bank says so, or it
// is the same sum of the same other end.
func (m *matcher) pairReturns() {
	back := map[string][]*line{}
	for _, l := range m.byDay {
		if k := sumKey(l.Amount, l.Currency); l.Amount.IsPositive() {
			back[k] = append(back[k], l)
		}
	}
	for _, n := range m.byDay {
		if n.seen || !n.Amount.IsNegative() {
			continue
		}
		for _, p := range back[sumKey(n.Amount.Neg(), n.Currency)] {
			same := p.undone == nil && !p.seen && p.Amount.Equal(n.Amount.Neg()) && p.Currency == n.Currency
			near := p.Day <= n.Day && between(p.Day, n.Day) <= wide
			if same && near && (n.Reversal || p.payer == n.payer || m.disputed(n)) {
				n.undone, p.undone = p, n
				break
			}
		}
	}
}

// takenBack offers for both lines what the first would have been for.
func (m *matcher) takenBack(l *line) {
	if l.Amount.IsPositive() {
		m.offers(l)
		for i := range l.found {
			l.found[i].Why, l.found[i].Other = TakenBack, l.undone.No
		}
		return
	}
	for _, p := range l.undone.found {
		p.Line, p.Amount, p.Other, p.Sure = l.No, l.Amount, l.undone.No, false
		p.Parts = slices.Clone(p.Parts)
		for i := range p.Parts {
			p.Parts[i].Value = p.Parts[i].Value.Neg()
		}
		l.found = append(l.found, p)
	}
}

// debit offers what a line that takes money may be about: a payment in the books
// that it takes back, or a customer's claim.
func (m *matcher) debit(l *line) {
	for i := range m.Booked {
		b := &m.Booked[i]
		if b.Amount.Equal(l.Amount.Neg()) && b.Currency == l.Currency && len(b.Claims) > 0 && b.Day <= l.Day &&
			between(b.Day, l.Day) <= 3*wide && (l.Reversal || m.disputed(l) || m.trust[l.payer]) {
			p := Proposal{Line: l.No, Amount: l.Amount, Why: TakenBack, Parts: shareOut(l.Amount, b.Claims)}
			for j := range b.Claims {
				p.For = append(p.For, &b.Claims[j])
			}
			p.score = float64(between(b.Day, l.Day)) / 100
			l.found = append(l.found, p)
		}
	}
	if len(l.found) > 0 || !m.disputed(l) {
		return
	}
	for _, c := range m.aboutDays(l) {
		p := Proposal{Line: l.No, Amount: l.Amount, Why: Claimed, For: []*Claim{c},
			Parts: []Part{{As: Dispute, Claim: c,
				Value: l.Amount}}}
		p.score = 1 + float64(between(c.Day, l.Day))/100
		if m.mentions(l, c.Day) {
			p.score--
		}
		l.found = append(l.found, p)
	}
}

// shareOut takes an amount back from the claims that it had paid.
func shareOut(amount decimal.Decimal, claims []Claim) (parts []Part) {
	rest := amount
	for i := range claims {
		v := decimal.Max(rest, claims[i].Value.Neg())
		if i == len(claims)-1 {
			v = rest
		}
		parts = append(parts, Part{As: Pays, Claim: &claims[i], Value: v})
		rest = rest.Sub(v)
	}
	return parts
}

// aboutDays lists the days that a customer's claim may be about: those that its
// words name, else the last few, of which the sum is at least as large.
func (m *matcher) aboutDays(l *line) (list []*Claim) {
	add := func(c *Claim) {
		if c.Day <= l.Day && c.Currency == l.Currency && c.Value.GreaterThanOrEqual(l.Amount.Neg()) {
			list = append(list, c)
		}
	}
	for _, c := range m.claims {
		add(c.Claim)
	}
	for i := range m.Closed {
		add(&m.Closed[i])
	}
	slices.SortStableFunc(list, func(a, b *Claim) int { return cmp.Compare(b.Day, a.Day) })
	others := func(c *Claim) bool { return !m.mentions(l, c.Day) }
	if named := slices.DeleteFunc(slices.Clone(list), others); len(named) > 0 {
		return named
	}
	return list[:min(len(list), 3)]
}

// disputeWords are words for what customers or banks take back; from memory.
var disputeWords = strings.Fields("chargeback dispute disputed claim reversal reversed " +
	"returned return retour refund " +
	"rückbuchung ruckbuchung rücklastschrift storno reklamation rejet contestation zwrot reklamacja storneert " +
	"contracargo devolucion devolución storno recall")

// disputed reports whether a line's words say that it is taken back.
func (m *matcher) disputed(l *line) bool {
	if l.Reversal {
		return true
	}
	for _, w := range disputeWords {
		if wordIn(l.Text, w) || wordIn(l.Name, w) {
			return true
		}
	}
	return false
}
