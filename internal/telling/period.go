package telling

import (
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// ClosedThen says why nothing can be added at a time from earlier: the day is
// closed, which is the period then given, or the machine was not open. It is
// empty for what happens now and where a period can still take something.
func ClosedThen(t *Teller, then time.Time) (why string, closed *books.Period) {
	if then.IsZero() {
		return "", nil
	}
	var at *books.Period
	for _, p := range t.Look(shop.DateOf(t.Local(then))).Periods {
		if !p.Opened.After(then) && (at == nil || p.Opened.After(at.Opened)) {
			at = p
		}
	}
	switch {
	case at != nil && at.Status != books.Closed:
		return "", nil
	case at == nil || then.After(at.Ended) && !SameDay(t.Local(then), t.Local(at.Ended)):
		return t.V.Say("then-not-open", "when", t.DayClock(then)), nil
	}
	return t.V.Say("then-closed", "when", t.Clock(at.Ended), "who", t.Name(at.EndedBy),
		"date", dateWord(t, at)), at
}

// dateWord writes the day of a period as it can be typed: 25 november.
func dateWord(t *Teller, p *books.Period) string {
	d := t.DayOf(p).Time()
	return strconv.Itoa(d.Day()) + " " + t.V.List("words.months")[int(d.Month())-1]
}

// NothingOpen says that the machine is not open, and when it was last closed; of one that is open, that no
// slip is missing; of something from earlier, that it was not open then.
func NothingOpen(t *Teller, then time.Time) string {
	if why, _ := ClosedThen(t, then); why != "" {
		return why
	}
	if then.IsZero() && t.M.Current() != nil {
		return t.V.Say(texts.Either(t.F.Shop.Nightly, "no-slip-missing", "no-slip-missing-stay"))
	}
	if p := t.M.Last(); p != nil && p.Status == books.Closed {
		return t.V.Say("nothing-open-since", "when", t.Clock(p.Ended), "who", t.Name(p.EndedBy))
	}
	if list := t.M.Pending(); len(list) > 0 {
		return t.V.Say("nothing-open-counted", "day", t.V.Day(t.Local(list[0].Opened)))
	}
	return t.V.Say("nothing-open")
}

// CountedSince says to somebody who is still counting that another count is on record.
func CountedSince(t *Teller, p *books.Period) string {
	said := t.V.Say("counted-since", "day", t.DayYear(t.DayOf(p)), "who", t.Name(p.CountedBy),
		"when", t.Clock(p.CountedAt))
	if p.Status == books.Waiting {
		said += "\n" + t.V.Say("counted-since-slip")
	}
	return said
}

// PeriodBlocks tell one period on a few lines.
func PeriodBlocks(t *Teller, p *books.Period) []chat.Block {
	head := t.V.Say("past.opened", "when", t.V.Clock(t.Local(p.Opened)), "who", t.Name(p.By))
	if p.Status == books.Closed {
		head = t.V.Say("past.closed", "when", t.V.Clock(t.Local(p.Opened)), "who", t.Name(p.By),
			"end", t.V.Clock(t.Local(p.Ended)), "whom", t.Name(p.EndedBy))
	}
	if late := !SameDay(t.Local(p.CountedAt), t.Local(p.Ended)); p.Status == books.Closed &&
		(late || p.CountedBy != p.EndedBy) {
		head = t.V.Say("past.finished", "when", t.V.Clock(t.Local(p.Opened)), "who", t.Name(p.By),
			"counted", t.DayClock(p.CountedAt), "counter", t.Name(p.CountedBy),
			"end", t.DayClock(p.Ended), "whom", t.Name(p.EndedBy))
	}
	rows := [][]string{{t.V.Say("past.loaded"), t.V.Money(p.Loaded().Value())}}
	returned, swapped := returned(t, p)
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{
		{"past.added", p.Added.Value().Sub(returned).Sub(swapped)}, {"past.returned", returned},
		{"past.removed", p.Removed.Value().Sub(swapped)}, {"past.swapped", swapped},
	} {
		if !x.value.IsZero() {
			rows = append(rows, []string{t.V.Say(x.id), t.V.Money(x.value)})
		}
	}
	paid, back := p.Paid()
	if len(p.Slips) > 0 {
		rows = append(rows, []string{t.V.Say("past.paid-out"), t.V.Money(paid)})
	}
	if back.IsPositive() {
		rows = append(rows, []string{t.V.Say("past.back"), t.V.Money(back)})
	}
	for _, m := range []books.Mark{books.AtOnce, books.Uncounted} {
		if p.Has(m) {
			head += "\n" + t.V.Say("past."+string(m))
		}
	}
	var causes []string
	if p.Status == books.Closed { // before, what was paid out looks like a difference
		causes = causeLines(t, p)
	}
	return []chat.Block{chat.Lines(head), chat.Columns(1, rows),
		chat.Lines(append([]string{result(t, p)}, causes...)...)}
}

// Todo lists what is open: ticks, periods whose figures are missing, cash owed back.
func Todo(t *Teller) []string {
	var lines []string
	for _, p := range t.M.Periods {
		if p.Status == books.Waiting {
			lines = append(lines,
				t.V.Say(texts.Either(len(p.Slips) > 0, "todo.close", "todo.figures"), "day", t.V.Day(t.DayOf(p).Time())))
		}
		if n := int64(len(p.Ticks)); n > 0 {
			lines = append(lines, t.V.Count("todo.ticks", n))
		}
	}
	if owed := t.M.Owed(); owed.IsPositive() {
		lines = append(lines, t.V.Say("owed", "money", t.V.Money(owed)))
	}
	for _, a := range t.F.Others {
		if t.Stale(a) {
			continue
		}
		lines = append(lines, t.V.Say("todo.busy", "who", t.Name(a.Person), "when", t.Clock(a.Since)))
	}
	return lines
}
