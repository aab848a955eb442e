package advice

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// Own is one kind of note in the shop's own hands.
type Own struct {
	Face    cashmath.Face
	Notes   int64     // at hand now
	Taking  int64     // what the tills bring a day
	Known   bool      // false: nothing is known of what customers ask for
	RunsOut shop.Date // first day on which there may be too few; empty: not within sight
	Order   int64     // notes to get from the bank, in whole bundles
}

// Plan says how long the shop's own cash lasts and what to get from the bank.
type Plan struct {
	From    shop.Date
	Sight   shop.Date // as far as it looks
	Share   float64   // of such stretches of days on which it holds
	Lines   []Own     // by kind, highest first
	RunsOut shop.Date // the first of them; empty: all last
	Fetch   shop.Date // last banking day before that; in the past or today: at once
	OrderBy shop.Date // the banking day before: a bank wants a day to have the notes ready
	Through shop.Date // what is ordered lasts through this next banking day
	Value   decimal.Decimal
	Credits decimal.Decimal // due from the bank from now up to Through, or up to Sight
	Late    decimal.Decimal // was due before and has not come
	Undated decimal.Decimal // due on a day nobody laid down
}

// SightDays is how far a cash plan looks, in days.
const SightDays = 14

// Cash says whether the shop's own notes last. Cash at hand and what the tills
// bring are by kind; takings of a day can be loaded the next morning. Claims are
// what the bank still owes. Ordering a day ahead is common practice, no source.
func (o *Outlook) Cash(own, takings map[cashmath.Face]int64, claims []books.Claim) (Plan, error) {
	share, err := Share(o.shop.Load)
	if err != nil {
		return Plan{}, err
	}
	from := dateOf(o.next)
	p := Plan{From: from, Sight: from.Add(SightDays - 1), Share: share}
	for _, face := range o.kit.Faces() {
		l := Own{Face: face, Notes: own[face], Taking: takings[face]}
		_, l.Known = o.Of(face, []demand.Day{o.next})
		l.RunsOut = o.runsOut(l, p)
		if l.RunsOut != "" && (p.RunsOut == "" || l.RunsOut < p.RunsOut) {
			p.RunsOut = l.RunsOut
		}
		p.Lines = append(p.Lines, l)
	}
	if p.RunsOut != "" {
		o.order(&p)
	}
	p.credit(claims)
	return p, nil
}

// runsOut is the first day by whose end more may have been asked for than there is.
func (o *Outlook) runsOut(l Own, p Plan) shop.Date {
	for d := p.From; l.Known && d <= p.Sight; d = d.Add(1) {
		if o.lack(l, p, d) > 0 {
			return d
		}
	}
	return ""
}

// lack is how many notes of a kind may be missing by the end of a day.
func (o *Outlook) lack(l Own, p Plan, to shop.Date) int64 {
	days := paying(o.shop, p.From, to)
	f, ok := o.Of(l.Face, days)
	if !ok {
		return 0
	}
	need, err := f.Quantile(p.Share)
	if err != nil {
		return 0 // a share that is none does not come from Share
	}
	mornings := int64(0) // after a day of trading: each brings its takings
	for d := p.From; d < to; d = d.Add(1) {
		if trades(o.shop, d) {
			mornings++
		}
	}
	return ceil(need) - l.Notes - l.Taking*mornings
}

// order says what to get from the bank, and when.
func (o *Outlook) order(p *Plan) {
	p.Fetch = o.branch(p.RunsOut, -1)
	p.OrderBy = o.branch(p.Fetch, -1)
	p.Through = o.branch(p.RunsOut, 1)
	for i := range p.Lines {
		l := &p.Lines[i]
		if !l.Known {
			continue
		}
		bundle := max(o.shop.Bundle(l.Face), 1)
		lack := max(o.lack(*l, *p, p.Through), 0)
		l.Order = (lack + bundle - 1) / bundle * bundle
		p.Value = p.Value.Add(cashmath.Value(l.Face, l.Order))
	}
}

// credit adds up what the bank still owes, by when it is due.
func (p *Plan) credit(claims []books.Claim) {
	until := p.Sight
	if p.Through != "" {
		until = p.Through
	}
	for _, c := range claims {
		switch left := c.Left(); {
		case !left.IsPositive():
		case c.On == "":
			p.Undated = p.Undated.Add(left)
		case c.On < p.From:
			p.Late = p.Late.Add(left)
		case c.On <= until:
			p.Credits = p.Credits.Add(left)
		}
	}
}

// branch is the nearest day after a date, or before it by a step of -1, on which
// notes can be had: banks pay in the currency and it is no public holiday in the
// shop's country. A branch may keep more days; the person is to ask it.
func (o *Outlook) branch(date shop.Date, step int) shop.Date {
	for range SightDays {
		date = date.Add(step)
		if bankdays.Open(o.shop.Currency, date) && holidays.On(o.shop.Country, date) == "" {
			break
		}
	}
	return date
}
