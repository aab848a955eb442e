package matching

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// together is a line with one or two others that may be parts of one payment.
type together struct {
	sum    decimal.Decimal
	about  int64 // how much sum is, see [matcher.within]
	others []*line
	odd    bool // none of them is like a day by itself, with fees or charges either
}

// is reports whether they are a sum to the cent, which is about so much.
func (t *together) is(sum decimal.Decimal, about int64) bool {
	return t.about <= about+rough && about <= t.about+rough && t.sum.Equal(sum)
}

// partners lists what a line may have been paid together with: one or two lines
// of the same payer, a few days apart, which are no day's sum by themselves.
func (m *matcher) partners(l *line) (list []together) {
	var near []*line
	from, _ := slices.BinarySearchFunc(m.byDay, l.Day.Add(-soon), func(o *line, d shop.Date) int {
		return cmp.Compare(o.Day, d)
	})
	for _, o := range m.byDay[from:] {
		if between(l.Day, o.Day) > soon || len(near) == choosing {
			break
		}
		if o != l && o.pays() && o.undone == nil && o.Currency == l.Currency &&
			o.payer == l.payer && !m.fitsAlone(o) {
			near = append(near, o)
		}
	}
	odd, likely := !m.likely(l), map[*line]bool{}
	for _, o := range near {
		likely[o] = odd && m.likely(o)
	}
	for i, o := range near {
		one := together{l.value.Add(o.value), l.about + o.about, []*line{o}, odd && !likely[o]}
		list = append(list, one)
		for _, p := range near[i+1:] {
			list = append(list, together{one.sum.Add(p.value), one.about + p.about, []*line{o, p},
				one.odd && !likely[p]})
		}
	}
	return list
}

// inParts offers days that came in several payments, alone or together with the
// days after them.
func (m *matcher) inParts(l *line, open []*claim) {
	sums := m.partners(l)
	if len(sums) == 0 {
		return
	}
	for i := range open {
		sum, about := decimal.Zero, int64(0)
		for j := i; j < len(open) && j < i+longest; j++ {
			sum, about = sum.Add(open[j].Left), about+open[j].about
			if about+rough >= l.about && sum.GreaterThan(l.value) {
				m.partOf(l, open[i:j+1], sum, about, sums)
			}
		}
	}
}

// partOf offers a line as a part of a sum, if there are lines for the rest of it.
func (m *matcher) partOf(l *line, claims []*claim, sum decimal.Decimal, about int64, sums []together) {
	p := Proposal{Line: l.No, Amount: l.Amount, Why: InParts, score: 2 + 0.3*float64(len(claims)-1)}
	i := slices.IndexFunc(sums, func(t together) bool { return t.is(sum, about) })
	if i < 0 {
		p.score += 1.5
		i = slices.IndexFunc(sums, func(t together) bool {
			if !t.odd || !m.within(t.about, about) {
				return false
			}
			all := &line{Line: l.Line, value: t.sum}
			return m.fees(all, sum) || m.close(all, sum)
		})
	}
	if i < 0 || slices.ContainsFunc(sums[i].others, func(o *line) bool { return o.Day < claims[0].Day }) {
		return
	}
	p.Other = sums[i].others[0].No
	p.Parts = share(l, sums[i].others, claims)
	m.weigh(l, &p, claims)
	l.found = append(l.found, p)
}

// share gives a line its part of claims that several lines pay: the lines fill
// one claim after the other in their order, and what is left over is fees.
func share(l *line, others []*line, claims []*claim) (parts []Part) {
	skip := decimal.Zero
	for _, o := range others {
		if o.No < l.No {
			skip = skip.Add(o.Amount)
		}
	}
	rest := l.Amount
	for _, c := range claims {
		free := decimal.Max(c.Left.Sub(skip), decimal.Zero)
		skip = decimal.Max(skip.Sub(c.Left), decimal.Zero)
		if v := decimal.Min(free, rest); v.IsPositive() {
			parts = append(parts, Part{As: Pays, Claim: c.Claim, Value: v})
			rest = rest.Sub(v)
		}
	}
	if !rest.IsZero() {
		parts = append(parts, Part{As: Fee, Value: rest})
	}
	return parts
}
