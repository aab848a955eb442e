package telling

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/months"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// DaySum is one day, or several, in money.
type DaySum struct {
	date                       shop.Date
	periods                    []*books.Period
	fromTill, fromBank         decimal.Decimal // brought to machine or safe
	paidOut, back, tests       decimal.Decimal
	variance                   decimal.Decimal
	due, paid                  decimal.Decimal // for the settlements of the day
	fees, charges, taken       decimal.Decimal // by the day they came
	incomplete, hasSettlements bool
	known                      bool // a total: some difference is known
	late                       bool // what was recorded of a day of a finished month since then
}

func (d *DaySum) Open() decimal.Decimal { return d.due.Sub(d.paid) }

// Past gives the days from one date to another that have something to tell, by
// what holds now: corrections are in it. Finished months are told as they were
// finished; what was recorded of their days since stands behind the days of the
// span in which it was.
func Past(t *Teller, from, to shop.Date) []*DaySum {
	if !t.HasLedger() || t.F.Ask.Finished == nil {
		return pastOf(t, nil, from, to)
	}
	book := months.Book[*DaySum]{Entries: t.F.Ask.Entries(), Months: months.Of(t.F.Ask.Finished(), t.M.ID),
		Local: func(at time.Time) shop.Date { return shop.DateOf(t.Local(at)) },
		Date:  func(d *DaySum) shop.Date { return d.date }, Less: less,
		Days: func(entries []books.Entry, from, to shop.Date) []*DaySum {
			return pastOf(t, entries, from, to)
		}}
	days, late := book.Between(from, to)
	return append(days, late...)
}

// less is what a day has become more than it was.
func less(now, was *DaySum) (*DaySum, bool) {
	d := &DaySum{late: true}
	for _, x := range []*DaySum{was, now} {
		if x == nil {
			continue
		}
		for i, f := range d.amounts() {
			*f = x.amounts()[i].Sub(*f)
		}
		d.date, d.incomplete = x.date, x.incomplete
	}
	if now == nil {
		for _, f := range d.amounts() {
			*f = f.Neg()
		}
	}
	return d, !d.empty() || !d.variance.IsZero()
}

// amounts are all that can be added up.
func (d *DaySum) amounts() []*decimal.Decimal {
	return []*decimal.Decimal{&d.fromTill, &d.fromBank, &d.paidOut, &d.back, &d.tests, &d.variance, &d.due,
		&d.paid, &d.fees, &d.charges, &d.taken}
}

// pastOf gives the days by the entries of a ledger; nil: by what is at hand.
func pastOf(t *Teller, entries []books.Entry, from, to shop.Date) []*DaySum {
	days := map[shop.Date]*DaySum{}
	at := func(d shop.Date) *DaySum {
		if days[d] == nil {
			days[d] = &DaySum{date: d}
		}
		return days[d]
	}
	m := t.Look()
	if entries != nil {
		if was, err := books.History(t.M.ID, entries); err == nil {
			m = was
		}
	} else if t.HasLedger() {
		entries = t.F.Ask.Entries()
	}
	for _, p := range m.Periods {
		day := t.DayOf(p)
		if from <= day && day <= to {
			at(day).add(p)
		}
		for i := range p.Slips {
			s := &p.Slips[i]
			if d := cmp.Or(s.Day, day); from <= d && d <= to {
				at(d).slip(s)
			}
		}
	}
	for _, x := range m.Claims {
		if d := SlipDay(t, x); from <= d && d <= to {
			day := at(d)
			day.due, day.paid = day.due.Add(x.Value), day.paid.Add(x.Paid)
		}
	}
	pastMoney(t, entries, from, to, at)
	maps.DeleteFunc(days, func(_ shop.Date, d *DaySum) bool { return d.empty() })
	return slices.SortedFunc(maps.Values(days), func(a, b *DaySum) int { return cmp.Compare(a.date, b.date) })
}

// add takes a period into its day.
func (d *DaySum) add(p *books.Period) {
	d.periods = append(d.periods, p)
	d.tests = d.tests.Add(p.Tests.Value())
	d.hasSettlements = d.hasSettlements || len(p.Slips) > 0
	if p.Status != books.Closed || p.Has(books.Unsettled) {
		d.incomplete = true
		return
	}
	d.variance = d.variance.Add(p.Variance)
}

// slip takes a slip into its own day, which may be another than its period's.
func (d *DaySum) slip(s *books.Slip) {
	d.paidOut, d.back = d.paidOut.Add(s.Paid()), d.back.Add(s.Cancelled())
}

// empty reports whether there is nothing to tell.
func (d *DaySum) empty() bool {
	for _, v := range d.amounts() {
		if v != &d.variance && !v.IsZero() {
			return false
		}
	}
	return len(d.periods) == 0
}

// pastMoney adds what came from till and bank, by the date on which it did.
func pastMoney(t *Teller, entries []books.Entry, from, to shop.Date, at func(shop.Date) *DaySum) {
	for _, e := range books.InForce(entries) {
		date := cmp.Or(e.Day, reminders.Today(t.F.Shop, e.Happened))
		if date < from || date > to {
			continue
		}
		for _, mv := range e.Moves {
			at(date).moved(mv)
		}
		if e.Kind == books.Test && e.Where == books.Till {
			for _, f := range e.Figures {
				at(date).moved(books.NewMove(books.BoxPlace(f.Box), books.Till, f.Face, f.Notes))
			}
		}
		for _, p := range e.Parts {
			at(date).part(p)
		}
	}
}

func (d *DaySum) moved(mv books.Move) {
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

func (d *DaySum) part(p books.Part) {
	switch p.As {
	case books.Fee:
		d.fees = d.fees.Add(p.Value)
	case books.Charge:
		d.charges = d.charges.Sub(p.Value)
	case books.Dispute:
		d.taken = d.taken.Sub(p.Value)
	}
}

// totalOf adds days up.
func totalOf(days []*DaySum) *DaySum {
	t := &DaySum{}
	for _, d := range days {
		t.incomplete, t.known = t.incomplete || d.incomplete, t.known || len(d.periods) > 0 && !d.incomplete
		for i, f := range t.amounts() {
			*f = f.Add(*d.amounts()[i])
		}
	}
	return t
}

// EndOf is the first instant that no longer belongs to a date's trading.
func EndOf(t *Teller, date shop.Date) time.Time {
	end := reminders.Instant(t.F.Shop.Location, date.Add(1), 0)
	for reminders.Today(t.F.Shop, end) <= date &&
		end.Before(reminders.Instant(t.F.Shop.Location, date.Add(1), 12*60)) {
		end = end.Add(15 * time.Minute)
	}
	return end
}

// DayBlocks tell a day: money first, then what is open.
func DayBlocks(t *Teller, d *DaySum) []chat.Block {
	var body []chat.Block
	for _, p := range d.periods {
		body = append(body, PeriodBlocks(t, p)...)
		if line := FaultsIn(t, t.Look(), p); line != "" {
			body = append(body, chat.Lines(line))
		}
	}
	rows := [][]string{}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{
		{"past.from-till", d.fromTill}, {"past.from-bank", d.fromBank}, {"past.due", d.due}, {"past.paid", d.paid},
		{"past.open", d.Open()}, {"past.fees", d.fees}, {"past.charges", d.charges}, {"past.taken", d.taken},
	} {
		if !x.value.IsZero() {
			rows = append(rows, []string{t.V.Say(x.id), t.V.Money(x.value)})
		}
	}
	if len(rows) > 0 {
		body = append(body, chat.Columns(1, rows))
	}
	return body
}

// DaysBlocks tell several days, each on a line, with their totals.
func DaysBlocks(t *Teller, days []*DaySum, from, to shop.Date) []chat.Block {
	rows := [][]string{{"", t.V.Say("col.paid-out"), t.V.Say("col.difference"), t.V.Say("col.open")}}
	for _, d := range days {
		diff := t.V.Money(d.variance)
		switch {
		case d.incomplete:
			diff = "?"
		case len(d.periods) == 0 && d.variance.IsZero():
			diff = ""
		}
		day := t.V.Day(d.date.Time())
		if d.late {
			day = t.V.Say("past.for-day", "day", day)
		}
		rows = append(rows, []string{day, t.V.Money(d.paidOut), diff, t.V.Money(d.Open())})
	}
	all := totalOf(days)
	diff := t.V.Money(all.variance)
	switch {
	case all.incomplete && !all.known:
		diff = "?"
	case all.incomplete:
		diff += " + ?"
	}
	rows = append(rows, []string{t.V.Say("owed.total"), t.V.Money(all.paidOut), diff,
		t.V.Money(all.Open())})
	lines := []string{}
	if all.fees.IsPositive() {
		lines = append(lines, t.V.Say("past.fees")+": "+t.V.Money(all.fees))
	}
	if all.charges.IsPositive() {
		lines = append(lines, t.V.Say("past.charges")+": "+t.V.Money(all.charges))
	}
	head := t.V.Say("past.month", "from", t.V.Day(from.Time()), "to", t.V.Day(to.Time()))
	return []chat.Block{chat.Lines(head), chat.Columns(1, rows),
		chat.Lines(append(lines, t.V.Say("past.export"))...)}
}
