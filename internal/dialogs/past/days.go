// Package past is the room of what has been: the state of things, history, days,
// months and weeks, where the money is, and what is taken back at once.
package past

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// looksBack is a command for who keeps the books that tells of what was.
func looksBack(name string, run func(*engine.Talk)) engine.Command {
	return engine.Command{Name: name, Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords, Run: run}
}

// shown reports whether days may be told; else it says why not.
func shown(c *engine.Talk, days []*daySum, none string) bool {
	switch {
	case len(days) == 0:
		c.Say(none)
	case c.Hidden():
		c.Say(c.V.Say("hidden"))
	default:
		return true
	}
	return false
}

// daySum is one day, or several, in money.
type daySum struct {
	date                       shop.Date
	periods                    []*books.Period
	fromTill, fromBank         decimal.Decimal // brought to machine or safe
	paidOut, back, tests       decimal.Decimal
	variance                   decimal.Decimal
	due, paid                  decimal.Decimal // for the settlements of the day
	fees, charges, taken       decimal.Decimal // by the day they came
	incomplete, hasSettlements bool
}

func (d *daySum) open() decimal.Decimal { return d.due.Sub(d.paid) }

// past gives the days from one date to another that have something to tell, by
// what holds now: corrections are in it.
func past(c *engine.Talk, from, to shop.Date) []*daySum {
	days := map[shop.Date]*daySum{}
	at := func(d shop.Date) *daySum {
		if days[d] == nil {
			days[d] = &daySum{date: d}
		}
		return days[d]
	}
	m := trade.Look(c)
	for _, p := range m.Periods {
		if d := c.DayOf(p); from <= d && d <= to {
			at(d).add(p)
		}
	}
	for _, x := range m.Claims {
		if d := trade.DayOfClaim(c, x); from <= d && d <= to {
			day := at(d)
			day.due, day.paid = day.due.Add(x.Value), day.paid.Add(x.Paid)
		}
	}
	pastMoney(c, from, to, at)
	return slices.SortedFunc(maps.Values(days), func(a, b *daySum) int { return cmp.Compare(a.date, b.date) })
}

// add takes a period into its day.
func (d *daySum) add(p *books.Period) {
	d.periods = append(d.periods, p)
	paid, back := p.Paid()
	d.paidOut, d.back = d.paidOut.Add(paid), d.back.Add(back)
	d.tests = d.tests.Add(p.Tests.Value())
	d.hasSettlements = d.hasSettlements || len(p.Slips) > 0
	if p.Status != books.Closed || p.Has(books.Unsettled) {
		d.incomplete = true
		return
	}
	d.variance = d.variance.Add(p.Variance)
}

// pastMoney adds what came from till and bank, by the date on which it did.
func pastMoney(c *engine.Talk, from, to shop.Date, at func(shop.Date) *daySum) {
	if !trade.HasLedger(c) {
		return
	}
	for _, e := range books.InForce(c.F.Ask.Entries()) {
		date := reminders.Today(c.F.Shop, e.Happened)
		if date < from || date > to {
			continue
		}
		for _, mv := range e.Moves {
			at(date).moved(mv)
		}
		for _, p := range e.Parts {
			at(date).part(p)
		}
	}
}

func (d *daySum) moved(mv books.Move) {
	value := decimal.Sum(books.Notes{mv.Face: mv.Notes}.Value())
	switch {
	case mv.From == books.Till:
		d.fromTill = d.fromTill.Add(value)
	case mv.To == books.Till:
		d.fromTill = d.fromTill.Sub(value)
	case mv.From == books.Bank:
		d.fromBank = d.fromBank.Add(value)
	case mv.To == books.Bank:
		d.fromBank = d.fromBank.Sub(value)
	}
}

func (d *daySum) part(p books.Part) {
	switch p.As {
	case books.Fee:
		d.fees = d.fees.Add(p.Value)
	case books.Charge:
		d.charges = d.charges.Sub(p.Value)
	case books.Dispute:
		d.taken = d.taken.Sub(p.Value)
	}
}

// total adds days up.
func total(days []*daySum) *daySum {
	t := &daySum{}
	for _, d := range days {
		for _, f := range []struct{ to, from *decimal.Decimal }{
			{&t.fromTill, &d.fromTill}, {&t.fromBank, &d.fromBank}, {&t.paidOut, &d.paidOut},
			{&t.back, &d.back}, {&t.tests, &d.tests}, {&t.variance, &d.variance}, {&t.due, &d.due},
			{&t.paid, &d.paid}, {&t.fees, &d.fees}, {&t.charges, &d.charges}, {&t.taken, &d.taken},
		} {
			*f.to = f.to.Add(*f.from)
		}
	}
	return t
}

// endOf is the first instant that no longer belongs to a date's trading.
func endOf(c *engine.Talk, date shop.Date) time.Time {
	end := reminders.Instant(c.F.Shop.Location, date.Add(1), 0)
	for reminders.Today(c.F.Shop, end) <= date &&
		end.Before(reminders.Instant(c.F.Shop.Location, date.Add(1), 12*60)) {
		end = end.Add(15 * time.Minute)
	}
	return end
}
