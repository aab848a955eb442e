// Package bygone tells of days that have been in money: a day, several in a table or a
// file, and where the money was at the end of one.
package bygone

import (
	"cmp"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/months"
	"shopfloat/internal/names"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// Past gives the days from one date to another that have something to tell, by
// what holds now: corrections are in it. Finished months are told as they were
// finished; what was recorded of their days since stands behind the days of the
// span in which it was.
func Past(t *telling.Teller, from, to shop.Date) (*tally.Machine, error) {
	then, entries, finished := Since(t, from, to)
	m, err := tally.FinishedOn(t.F.Shop, t.Kit, then, entries, from, to, finished)
	if err != nil || !m.Astray() || then.Seq == 0 {
		return m, err
	}
	return tally.Finished(t.F.Shop, t.Kit, t.Ledger(), from, to, finished)
}

// Since gives what is to be read to tell of a span: the books before it, all entries since,
// and which months are finished.
func Since(t *telling.Teller, from, to shop.Date) (then *books.Machine, entries []books.Entry,
	finished []shop.Finished) {
	if t.F.Ask.Finished != nil {
		finished = t.F.Ask.Finished()
	}
	local := func(at time.Time) shop.Date { return shop.DateOf(at.In(t.F.Shop.Location)) }
	then, entries = months.Reaching(months.Of(finished, t.M.ID), from, to, local, t.Lately, t.Back)
	return then, entries, finished
}

// Those gives the days of machines that may be told, one after the other, and what is said
// first of those that may not; none at all where there are no days, with why. none is said
// where there never were any.
func Those(of []*telling.Teller, from, to shop.Date, none string) (list []*tally.Machine, said string) {
	days := 0
	for _, t := range of {
		seen := telling.SeenUntil(t, to)
		if seen < to {
			said = telling.Counted(t)
		}
		m, err := Past(t, from, max(seen, from.Add(-1)))
		if err != nil {
			return nil, t.V.Say("proof.cannot")
		}
		list, days = append(list, m), days+len(m.Days)
	}
	if days == 0 {
		return nil, cmp.Or(said, none)
	}
	return list, said
}

// EndOf is the first instant that no longer belongs to a date's trading.
func EndOf(t *telling.Teller, date shop.Date) time.Time {
	end := reminders.Instant(t.F.Shop.Location, date.Add(1), 0)
	for reminders.Today(t.F.Shop, end) <= date &&
		end.Before(reminders.Instant(t.F.Shop.Location, date.Add(1), 12*60)) {
		end = end.Add(15 * time.Minute)
	}
	night := reminders.Instant(t.F.Shop.Location, date.Add(1), nightEnds)
	for _, p := range t.Look(date).Periods { // a holiday that was traded on ends when it was closed
		if t.DayOf(p) == date && !p.Ended.Before(end) && p.Ended.Before(night) {
			end = p.Ended.Add(time.Millisecond)
		}
	}
	return end
}

// nightEnds is until when in the night, in minutes, a day may still be closed that by the plan
// did not trade.
const nightEnds = 4 * 60

// DayBlocks tell a day: money first, then what is open.
func DayBlocks(t *telling.Teller, d *tally.Day) []chat.Block {
	var body []chat.Block
	known := t.M
	if then, entries := t.Lately(d.Date); len(d.Periods) > 0 {
		if m, err := books.HistoryOn(then, entries); err == nil {
			known = m
		}
	}
	for _, p := range d.Periods {
		body = append(body, telling.PeriodBlocks(t, p)...)
		if line := telling.FaultsIn(t, known, p); line != "" {
			body = append(body, chat.Lines(line))
		}
	}
	if len(d.Periods) == 0 {
		body = stillOpen(t, d.Date)
	}
	rows := dayRows(t, d)
	if len(rows) > 0 {
		body = append(body, chat.Columns(1, rows))
	}
	if lines := paymentsFor(t, d.Date); len(lines) > 0 {
		body = append(body, chat.Lines(lines...))
	}
	return body
}

// paymentsShown bounds the payments that are told one by one for a day.
const paymentsShown = 4

// paymentsFor tells when the bank paid and took what is for a day, with its reference.
func paymentsFor(t *telling.Teller, day shop.Date) (lines []string) {
	then, since := t.Lately(day)
	m, err := tally.On(t.F.Shop, t.Kit, then, since, day, "")
	if err != nil {
		return nil
	}
	for i := range m.Payments {
		p := &m.Payments[i]
		id, money := "past.payment-"+telling.Sign(p.Paid), p.Paid.Abs()
		switch {
		case p.ClaimDay != day:
			continue
		case !p.Charge.IsZero():
			id, money = "past.payment-charge", p.Charge
		case !p.Disputed.IsZero():
			id, money = "past.payment-dispute", p.Disputed
		}
		line := t.V.Say(id, "day", t.DayYear(p.Date), "money", t.V.Money(money))
		if p.Ref != "" && id == "past.payment-more" {
			line += " " + t.V.Say("credit.ref", "ref", names.Quoted(p.Ref))
		}
		lines = append(lines, line)
	}
	if more := len(lines) - paymentsShown; more > 0 {
		lines = append(lines[:paymentsShown], t.V.Count("past.payments", int64(more)))
	}
	return lines
}

// stillOpen says of a day on which only slips were printed which opening they belong to.
func stillOpen(t *telling.Teller, date shop.Date) []chat.Block {
	for _, p := range t.Look(date).Periods {
		if slices.ContainsFunc(p.Slips, func(s books.Slip) bool { return s.Day == date }) {
			return []chat.Block{chat.Lines(t.V.Say("past.still-from", "day", t.V.Day(t.DayOf(p).Time())))}
		}
	}
	return nil
}

// dayRows line up the money of a day.
func dayRows(t *telling.Teller, d *tally.Day) [][]string {
	rows, paid := [][]string{}, decimal.Zero
	for _, p := range d.Periods {
		out, _ := p.Paid()
		paid = paid.Add(out)
	}
	if paid = d.PaidOut.Sub(paid); !paid.IsZero() { // a period has slips of several days
		paid = d.PaidOut
	}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{
		{"past.paid-that-day", paid}, {"past.from-till", d.FromTill}, {"past.from-bank", d.FromBank},
		{"past.due", d.Due},
		{"past.paid", d.Credited}, {"past.given-up", d.GivenUp}, {"past.open", d.Open()}, {"past.fees", d.Fees},
		{"past.charges", d.Charges}, {"past.taken", d.Disputed},
	} {
		switch {
		case x.value.IsZero():
		case x.id == "past.open" && x.value.IsNegative():
			rows = append(rows, []string{t.V.Say("past.over"), t.V.Money(x.value.Abs())})
		default:
			rows = append(rows, []string{t.V.Say(x.id), t.V.Money(x.value)})
		}
	}
	return rows
}

// daysRows line up several days and their totals; fees have a column where there are any.
func daysRows(t *telling.Teller, days []*tally.Day) [][]string {
	all := tally.Total(days)
	row := func(name string, d *tally.Day) []string {
		paid, open := t.V.Money(d.PaidOut), t.V.Money(d.Open())
		if d.Unknown && d.PaidOut.IsZero() { // no slip is in: that is not nothing
			paid = "?"
		}
		if paid == "?" && d.Open().IsZero() {
			open = "?"
		}
		cells := []string{name, paid, Difference(t, d), open}
		if !all.Fees.IsZero() {
			cells = append(cells, t.V.Money(d.Fees))
		}
		return cells
	}
	rows := [][]string{{"", t.V.Say("col.paid-out"), t.V.Say("col.difference"), t.V.Say("col.open")}}
	if !all.Fees.IsZero() {
		rows[0] = append(rows[0], t.V.Say("col.fees"))
	}
	for _, d := range days {
		if len(d.Periods) == 0 && d.PaidOut.IsZero() && d.Open().IsZero() && d.Due.IsZero() && d.Fees.IsZero() {
			continue // only charges came, which stand below
		}
		day := t.V.Day(d.Date.Time())
		if d.Late {
			day = t.V.Say("past.for-day", "day", day)
		}
		rows = append(rows, row(day, d))
	}
	return append(rows, row(t.V.Say("owed.total"), all))
}

// FeesLine says, under a file with fees in it, that they stand apart; else nothing.
func FeesLine(t *telling.Teller, list []*tally.Machine) string {
	for _, m := range list {
		if !tally.Total(m.Days).Fees.IsZero() {
			return t.V.Say("export.no-advice")
		}
	}
	return ""
}

// DaysBlocks tell several days, each on a line, with their totals.
func DaysBlocks(t *telling.Teller, days []*tally.Day, from, to shop.Date) []chat.Block {
	rows, all := daysRows(t, days), tally.Total(days)
	lines := []string{}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{{"past.tax", all.Tax}, {"past.charges", all.Charges}, {"past.taken", all.Disputed},
		{"past.given-up", all.GivenUp}} {
		if !x.value.IsZero() {
			lines = append(lines, t.V.Say(x.id)+": "+t.V.Money(x.value))
		}
	}
	head := t.V.Say("past.month", "from", t.V.Day(from.Time()), "to", t.V.Day(to.Time()))
	return []chat.Block{chat.Lines(head), chat.Columns(1, rows),
		chat.Lines(append(lines, t.V.Say("past.export"))...)}
}

// Difference words the difference of a day or of several: what is not known is
// never nothing.
func Difference(t *telling.Teller, d *tally.Day) string {
	switch {
	case d.Unknown && d.Known:
		return t.V.Money(d.Variance) + " + ?"
	case d.Unknown:
		return "?"
	case d.Known:
		return t.V.Money(d.Variance)
	}
	return ""
}

// DayOf is the day of trading that a record is told under.
func DayOf(t *telling.Teller, e books.Entry) shop.Date {
	if e.Day != "" {
		return e.Day
	}
	return reminders.Today(t.F.Shop, e.Happened)
}
