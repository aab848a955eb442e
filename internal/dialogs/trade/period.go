// Package trade is what rooms share about a period of trading: what it holds, how it
// ended and why, what the bank owes for it, and who is told.
package trade

import (
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// ClosedThen says why nothing can be added at the time in the draft: the day is
// closed, which is the period then given, or the machine was not open. It is
// empty for what happens now and where a period can still take something.
func ClosedThen(c *engine.Talk) (why string, closed *books.Period) {
	then := c.State.Draft.Happened
	if then.IsZero() {
		return "", nil
	}
	var at *books.Period
	for _, p := range Look(c).Periods {
		if !p.Opened.After(then) && (at == nil || p.Opened.After(at.Opened)) {
			at = p
		}
	}
	switch {
	case at != nil && at.Status != books.Closed:
		return "", nil
	case at == nil || then.After(at.Ended) && !engine.SameDay(c.Local(then), c.Local(at.Ended)):
		return c.V.Say("then-not-open", "when", c.DayClock(then)), nil
	}
	return c.V.Say("then-closed", "when", c.Clock(at.Ended), "who", c.Name(at.EndedBy),
		"date", dateWord(c, at)), at
}

// dateWord writes the day of a period as it can be typed: 25 november.
func dateWord(c *engine.Talk, p *books.Period) string {
	d := c.DayOf(p).Time()
	return strconv.Itoa(d.Day()) + " " + c.V.List("words.months")[int(d.Month())-1]
}

// NothingOpen says that the machine is not open, and when it was last closed; of
// something from earlier, that it was not open then.
func NothingOpen(c *engine.Talk) string {
	if why, _ := ClosedThen(c); why != "" {
		return why
	}
	if p := c.M.Last(); p != nil && p.Status == books.Closed {
		return c.V.Say("nothing-open-since", "when", c.Clock(p.Ended), "who", c.Name(p.EndedBy))
	}
	if list := c.M.Pending(); len(list) > 0 {
		return c.V.Say("nothing-open-counted", "day", c.V.Day(c.Local(list[0].Opened)))
	}
	return c.V.Say("nothing-open")
}

// PeriodBlocks tell one period on a few lines.
func PeriodBlocks(c *engine.Talk, p *books.Period) []chat.Block {
	head := c.V.Say("past.opened", "when", c.V.Clock(c.Local(p.Opened)), "who", c.Name(p.By))
	if p.Status == books.Closed {
		head = c.V.Say("past.closed", "when", c.V.Clock(c.Local(p.Opened)), "who", c.Name(p.By),
			"end", c.V.Clock(c.Local(p.Ended)), "whom", c.Name(p.EndedBy))
	}
	if late := !engine.SameDay(c.Local(p.CountedAt), c.Local(p.Ended)); p.Status == books.Closed &&
		(late || p.CountedBy != p.EndedBy) {
		head = c.V.Say("past.finished", "when", c.V.Clock(c.Local(p.Opened)), "who", c.Name(p.By),
			"counted", c.DayClock(p.CountedAt), "counter", c.Name(p.CountedBy),
			"end", c.DayClock(p.Ended), "whom", c.Name(p.EndedBy))
	}
	rows := [][]string{{c.V.Say("past.loaded"), c.V.Money(p.Loaded().Value())}}
	returned := returned(c, p)
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{
		{"past.added", p.Added.Value().Sub(returned)}, {"past.returned", returned},
		{"past.removed", p.Removed.Value()},
	} {
		if !x.value.IsZero() {
			rows = append(rows, []string{c.V.Say(x.id), c.V.Money(x.value)})
		}
	}
	paid, back := p.Paid()
	if len(p.Slips) > 0 {
		rows = append(rows, []string{c.V.Say("past.paid-out"), c.V.Money(paid)})
	}
	if back.IsPositive() {
		rows = append(rows, []string{c.V.Say("past.back"), c.V.Money(back)})
	}
	return []chat.Block{engine.Text(head), engine.Columns(1, rows),
		engine.Text(append([]string{result(c, p)}, causeLines(c, p)...)...)}
}

// Todo lists what is open: ticks, periods whose figures are missing, cash owed back.
func Todo(c *engine.Talk) []string {
	var lines []string
	for _, p := range c.M.Periods {
		if p.Status == books.Waiting {
			lines = append(lines,
				c.V.Say(engine.Either(len(p.Slips) > 0, "todo.close", "todo.figures"), "day", c.V.Day(c.Local(p.Opened))))
		}
		if n := int64(len(p.Ticks)); n > 0 {
			lines = append(lines, c.V.Count("todo.ticks", n))
		}
	}
	if owed := c.M.Owed(); owed.IsPositive() {
		lines = append(lines, c.V.Say("owed", "money", c.V.Money(owed)))
	}
	for _, a := range c.F.Others {
		if c.Stale(a) {
			continue
		}
		lines = append(lines, c.V.Say("todo.busy", "who", c.Name(a.Person), "when", c.Clock(a.Since)))
	}
	return lines
}

// PutIn is what was put into the boxes of a period, less what was taken out.
func PutIn(p *books.Period) decimal.Decimal {
	return p.Loaded().Value().Add(p.Added.Value()).Sub(p.Removed.Value())
}

// Ready finds the open period a dialog is about, or ends the dialog.
func Ready(c *engine.Talk) *books.Period {
	p := ask.Target(c)
	if p == nil || p.Status != books.Open {
		c.Close(chat.Block{Text: NothingOpen(c)})
		return nil
	}
	c.State.Draft.Period = p.No
	return p
}

// Estimate is the most a box can hold now: the last level the machine showed
// and what was added since, or all that was put in.
func Estimate(p *books.Period, position int) (notes int64, shown bool) {
	b := p.Box(position)
	switch {
	case b == nil:
		return 0, false
	case len(p.Readings) == 0:
		return b.Held, false
	}
	r := p.Readings[0]
	for _, x := range p.Readings[1:] { // one from paper may have come in after a newer one
		if !x.Happened.Before(r.Happened) {
			r = x
		}
	}
	return r.Boxes[position-1] + b.Held - r.Held[position-1], true
}
