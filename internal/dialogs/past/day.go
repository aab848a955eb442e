package past

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// DayCommand shows any past day, or several.
func DayCommand() engine.Command { return looksBack(engine.DoDay, day) }

// day shows any past day: day 24 november.
func day(c *engine.Talk) {
	from, to, rest := trade.PastDays(c, strings.ToLower(c.Rest))
	if rest != "" {
		c.Say(c.V.Say("past.no-day", "near", rest))
		return
	}
	if from != to {
		monthTable(c, from, to)
		return
	}
	days := past(c, from, from)
	if !shown(c, days, c.V.Say("no-such-day", "day", ask.DayYear(c, from))) {
		return
	}
	c.Send(chat.Reply{Body: append([]chat.Block{engine.Text(c.V.Say("past.day", "day", ask.DayYear(c, from)))},
		dayBlocks(c, days[0])...)})
}

// dayBlocks tell a day: money first, then what is open.
func dayBlocks(c *engine.Talk, d *daySum) []chat.Block {
	var body []chat.Block
	for _, p := range d.periods {
		body = append(body, trade.PeriodBlocks(c, p)...)
		if line := trade.FaultsIn(c, trade.Look(c), p); line != "" {
			body = append(body, engine.Text(line))
		}
	}
	rows := [][]string{}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{
		{"past.from-till", d.fromTill}, {"past.from-bank", d.fromBank}, {"past.due", d.due}, {"past.paid", d.paid},
		{"past.open", d.open()}, {"past.fees", d.fees}, {"past.charges", d.charges}, {"past.taken", d.taken},
	} {
		if !x.value.IsZero() {
			rows = append(rows, []string{c.V.Say(x.id), c.V.Money(x.value)})
		}
	}
	if len(rows) > 0 {
		body = append(body, engine.Columns(1, rows))
	}
	return body
}

// MonthCommand shows a month day by day.
func MonthCommand() engine.Command { return looksBack(engine.DoMonth, month) }

// month shows a table of days with totals: month, month november.
func month(c *engine.Talk) {
	from, to, ok := monthOf(c, c.Rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", c.Rest))
		return
	}
	monthTable(c, from, to)
}

// monthOf reads the name of a month that has been or is under way; none is this one.
func monthOf(c *engine.Talk, s string) (from, to shop.Date, ok bool) {
	today := c.Today().Time()
	m, why := when.Month{Year: today.Year(), Month: today.Month()}, when.OK
	if s != "" {
		m, why = ask.Reader(c).Month(s, when.Back)
	}
	return m.First(), m.Last(), why == when.OK
}

func monthTable(c *engine.Talk, from, to shop.Date) {
	days := past(c, from, to)
	if !shown(c, days, c.V.Say("past.nothing")) {
		return
	}
	rows := [][]string{{"", c.V.Say("col.paid-out"), c.V.Say("col.difference"), c.V.Say("col.open")}}
	for _, d := range days {
		diff := c.V.Money(d.variance)
		if d.incomplete {
			diff = "?"
		}
		rows = append(rows, []string{c.V.Day(d.date.Time()), c.V.Money(d.paidOut), diff, c.V.Money(d.open())})
	}
	t := total(days)
	rows = append(rows, []string{c.V.Say("owed.total"), c.V.Money(t.paidOut), c.V.Money(t.variance),
		c.V.Money(t.open())})
	lines := []string{}
	if t.fees.IsPositive() {
		lines = append(lines, c.V.Say("past.fees")+": "+c.V.Money(t.fees))
	}
	if t.charges.IsPositive() {
		lines = append(lines, c.V.Say("past.charges")+": "+c.V.Money(t.charges))
	}
	head := c.V.Say("past.month", "from", c.V.Day(from.Time()), "to", c.V.Day(to.Time()))
	c.Send(chat.Reply{Body: []chat.Block{engine.Text(head), engine.Columns(1, rows),
		engine.Text(append(lines, c.V.Say("past.export"))...)}})
}
