package dialogs

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

func dayCommand() command {
	return command{name: doDay, rights: rights{access.Keeping, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).day}
}

// day shows any past day: day 24 november.
func (c *talk) day() {
	from, to, rest := c.pastDays(strings.ToLower(c.rest))
	if rest != "" {
		c.say(c.v.Say("past.no-day", "near", rest))
		return
	}
	if from != to {
		c.monthTable(from, to)
		return
	}
	days := c.past(from, from)
	if len(days) == 0 {
		c.say(c.v.Say("no-such-day", "day", c.dayYear(from)))
		return
	}
	if c.hidden() {
		c.say(c.v.Say("hidden"))
		return
	}
	c.send(Reply{Body: append([]Block{text(c.v.Say("past.day", "day", c.dayYear(from)))},
		c.dayBlocks(days[0])...)})
}

// dayBlocks tell a day: money first, then what is open.
func (c *talk) dayBlocks(d *daySum) []Block {
	var body []Block
	for _, p := range d.periods {
		body = append(body, c.periodBlocks(p)...)
		if line := c.faultsIn(c.look(), p); line != "" {
			body = append(body, text(line))
		}
	}
	rows := [][]string{}
	row := func(id string, v decimal.Decimal) {
		if !v.IsZero() {
			rows = append(rows, []string{c.v.Say(id), c.v.Money(v)})
		}
	}
	row("past.from-till", d.fromTill)
	row("past.from-bank", d.fromBank)
	row("past.due", d.due)
	row("past.paid", d.paid)
	row("past.open", d.open())
	row("past.fees", d.fees)
	row("past.charges", d.charges)
	row("past.taken", d.taken)
	if len(rows) > 0 {
		body = append(body, columns(1, rows))
	}
	return body
}

// periodBlocks tell one period on a few lines.
func (c *talk) periodBlocks(p *books.Period) []Block {
	head := c.v.Say("past.opened", "when", c.v.Clock(c.local(p.Opened)), "who", c.name(p.By))
	if p.Status == books.Closed {
		head = c.v.Say("past.closed", "when", c.v.Clock(c.local(p.Opened)), "who", c.name(p.By),
			"end", c.v.Clock(c.local(p.Ended)), "whom", c.name(p.EndedBy))
	}
	if late := !sameDay(c.local(p.CountedAt), c.local(p.Ended)); p.Status == books.Closed &&
		(late || p.CountedBy != p.EndedBy) {
		head = c.v.Say("past.finished", "when", c.v.Clock(c.local(p.Opened)), "who", c.name(p.By),
			"counted", c.dayClock(p.CountedAt), "counter", c.name(p.CountedBy),
			"end", c.dayClock(p.Ended), "whom", c.name(p.EndedBy))
	}
	rows := [][]string{{c.v.Say("past.loaded"), c.v.Money(p.Loaded().Value())}}
	returned := c.returned(p)
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{
		{"past.added", p.Added.Value().Sub(returned)}, {"past.returned", returned},
		{"past.removed", p.Removed.Value()},
	} {
		if !x.value.IsZero() {
			rows = append(rows, []string{c.v.Say(x.id), c.v.Money(x.value)})
		}
	}
	paid, back := p.Paid()
	if len(p.Slips) > 0 {
		rows = append(rows, []string{c.v.Say("past.paid-out"), c.v.Money(paid)})
	}
	if back.IsPositive() {
		rows = append(rows, []string{c.v.Say("past.back"), c.v.Money(back)})
	}
	return []Block{text(head), columns(1, rows), text(append([]string{c.result(p)}, c.causeLines(p)...)...)}
}

// returned is what came back from the till within a period: no top-up, the
// machine had lent it.
func (c *talk) returned(p *books.Period) decimal.Decimal {
	back := books.Notes{}
	if len(p.Added) == 0 || !c.hasLedger() {
		return back.Value()
	}
	for _, e := range books.InForce(c.f.Ask.Entries()) {
		for _, mv := range e.Moves {
			if e.Period == p.No && e.Kind == books.Moved && mv.From == books.Till && mv.To.Inside() {
				back.Plus(mv.Face, mv.Notes)
			}
		}
	}
	return back.Value()
}

// result says in one line how a period ended.
func (c *talk) result(p *books.Period) string {
	switch p.Status {
	case books.Open:
		return c.v.Say("past.still-open")
	case books.Waiting:
		return c.v.Say(either(len(p.Slips) > 0, "past.not-closed", "past.waiting"))
	}
	word, variance := p.Balances()
	line := c.total(p, word, variance)
	if (word == "short" || word == "over") && !p.Has(books.Unsettled) {
		line += " " + c.kindsOff(p)
	}
	return strings.TrimSpace(line)
}

// kindsOff words a difference in notes where it is known.
func (c *talk) kindsOff(p *books.Period) string {
	if p.TotalOnly() || len(p.ByFace) == 0 {
		return ""
	}
	var list []string
	for _, f := range p.ByFace.Faces() {
		list = append(list, c.v.Kind(f)+" "+c.differs(p.ByFace[f]))
	}
	return "(" + strings.Join(list, ", ") + ")"
}

func monthCommand() command {
	return command{name: doMonth, rights: rights{access.Keeping, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).month}
}

// month shows a table of days with totals: month, month november.
func (c *talk) month() {
	from, to, ok := c.monthOf(c.rest)
	if !ok {
		c.say(c.v.Say("past.no-month", "near", c.rest))
		return
	}
	c.monthTable(from, to)
}

// monthOf reads the name of a month that has been or is under way; none is this one.
func (c *talk) monthOf(s string) (from, to shop.Date, ok bool) {
	today := c.today().Time()
	m, why := when.Month{Year: today.Year(), Month: today.Month()}, when.OK
	if s != "" {
		m, why = c.reader().Month(s, when.Back)
	}
	return m.First(), m.Last(), why == when.OK
}

func (c *talk) monthTable(from, to shop.Date) {
	days := c.past(from, to)
	switch {
	case len(days) == 0:
		c.say(c.v.Say("past.nothing"))
		return
	case c.hidden():
		c.say(c.v.Say("hidden"))
		return
	}
	rows := [][]string{{"", c.v.Say("col.paid-out"), c.v.Say("col.difference"), c.v.Say("col.open")}}
	for _, d := range days {
		diff := c.v.Money(d.variance)
		if d.incomplete {
			diff = "?"
		}
		rows = append(rows, []string{c.v.Day(d.date.Time()), c.v.Money(d.paidOut), diff, c.v.Money(d.open())})
	}
	t := total(days)
	rows = append(rows, []string{c.v.Say("owed.total"), c.v.Money(t.paidOut), c.v.Money(t.variance),
		c.v.Money(t.open())})
	lines := []string{}
	if t.fees.IsPositive() {
		lines = append(lines, c.v.Say("past.fees")+": "+c.v.Money(t.fees))
	}
	if t.charges.IsPositive() {
		lines = append(lines, c.v.Say("past.charges")+": "+c.v.Money(t.charges))
	}
	c.send(Reply{Body: []Block{text(c.v.Say("past.month", "from", c.v.Day(from.Time()), "to",
		c.v.Day(to.Time()))),
		columns(1, rows), text(append(lines, c.v.Say("past.export"))...)}})
}
