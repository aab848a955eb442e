package dialogs

import (
	"slices"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// correctReasons can be tapped; anything else is typed.
var correctReasons = []books.Reason{books.Mistyped, books.Miscounted, books.Misplaced}

func reasonOptions(c *talk) (list []option) {
	for _, r := range correctReasons {
		list = append(list, option{label: upper(c.v.Say("reason." + string(r))), value: string(r),
			take: func(c *talk) {
				c.forget("words")
				choice("reason", string(r), "review")(c)
			}})
	}
	return list
}

// maxReason bounds the words of a reason, in letters.
const maxReason = 200

func answerCorrectReason(c *talk, s string) bool {
	if r := []rune(s); len(r) > maxReason {
		s = string(r[:maxReason])
	}
	c.choose("reason", string(books.Other))
	c.choose("words", s)
	c.goTo("review")
	return true
}

// correction makes the record of the draft; ok is false when there is none.
func (c *talk) correction() (r books.Record, ok bool) {
	e, ok := c.wrong()
	if !ok {
		return r, false
	}
	r = books.Record{Kind: books.Correction, Period: e.Period, Target: e.Seq,
		Reason: books.Reason(c.chosen("reason")), Words: c.chosen("words")}
	if e.Kind == books.Opening {
		r.Period = e.Seq
	}
	if c.chosen("never") != "" {
		return r, true
	}
	in := c.redrawn(e)
	if date := shop.Date(c.chosen("date")); date != "" {
		in.Happened = c.onDate(e.Happened, date)
		if no, err := strconv.ParseInt(c.chosen("period"), 10, 64); err == nil {
			in.Period = no
		}
		if e.Kind == books.Settlement {
			in.DueOn = c.dueOn(in.Happened)
		}
	}
	if e.Kind == books.Count && !slices.Contains(in.Marks, books.NotBlind) {
		in.Marks = append(slices.Clone(in.Marks), books.NotBlind)
	}
	r.Instead = &in
	if e.Kind == books.Moved && len(in.Moves) == 0 {
		r.Instead = nil
	}
	return r, true
}

// onDate is the same time of day on another date.
func (c *talk) onDate(t time.Time, date shop.Date) time.Time {
	l := c.local(t)
	return reminders.Instant(c.f.Shop.Location, date, l.Hour()*60+l.Minute()).UTC()
}

// effect is what a correction changes.
type effect struct {
	day           string
	before, after decimal.Decimal
}

// effects compares the periods that a correction is about before and after it.
func (c *talk) effects(r books.Record, after *books.Machine) []effect {
	var list []effect
	was := c.look()
	now := after
	if m, err := books.History(c.m.ID, append(c.ledger(), c.entry(r, c.m.Seq+1))); err == nil {
		now = m
	}
	for _, p := range was.Periods {
		q := now.Period(p.No)
		if q == nil || p.Status != books.Closed || p.Variance.Equal(q.Variance) {
			continue
		}
		list = append(list, effect{day: c.v.Day(c.dayOf(p).Time()), before: p.Variance, after: q.Variance})
	}
	return list
}

func readCorrection(c *talk) []Block {
	e, _ := c.wrong()
	r, ok := c.correction()
	if !ok {
		c.goTo("which")
		return nil
	}
	after, err := c.corrected(r)
	if err != nil {
		c.first(c.v.Say("correct.cannot"))
		c.goTo("how")
		return nil
	}
	lines := []string{c.v.Say("correct.was", "what", c.entryLine(e))}
	if r.Instead == nil {
		lines = append(lines, c.v.Say("correct.nothing"))
	} else {
		in := e
		in.Record = *r.Instead
		lines = append(lines, c.v.Say("correct.now", "what", c.entryLine(in)))
		if r.Instead.Period != e.Period {
			lines = append(lines, c.v.Say("correct.moved", "day",
				c.v.Day(shop.Date(c.chosen("date")).Time())))
		}
	}
	for _, x := range c.effects(r, after) {
		lines = append(lines, c.v.Say("correct.difference", "day", x.day, "before", c.v.Money(x.before),
			"after", c.v.Money(x.after)))
	}
	if b, a := c.m.ByBank(), after.ByBank(); !b.Equal(a) {
		lines = append(lines, c.v.Say("correct.owed", "before", c.v.Money(b), "after", c.v.Money(a)))
	}
	return []Block{text(append(lines, c.v.Say("correct.reason", "why", c.reasonWord()))...)}
}

func (c *talk) reasonWord() string {
	if words := c.chosen("words"); words != "" {
		return words
	}
	return c.v.Say("reason." + c.chosen("reason"))
}

func bookCorrection(c *talk) {
	r, ok := c.correction()
	if !ok {
		return
	}
	after, err := c.corrected(r)
	if err != nil {
		c.first(c.v.Say("correct.cannot"))
		c.goTo("how")
		return
	}
	for _, x := range c.effects(r, after) {
		r.Amounts = append(r.Amounts, books.Amount{Field: books.Was, Value: x.before},
			books.Amount{Field: books.Difference, Value: x.after})
	}
	if err := c.correct(r); err != nil {
		c.refuse(err)
		return
	}
	c.remindAgain()
	c.tellCorrected(r)
	c.close(text(c.v.Say("correct.done", "when", c.clock(c.in.At)), c.v.Say("correct.stays")))
}

// remindAgain plans the reminders of what the bank owes anew: sums and due
// dates may be others now.
func (c *talk) remindAgain() {
	for _, x := range c.m.Claims {
		if x.Left().IsPositive() {
			c.remindOf(x)
		} else {
			c.quietPaid([]int64{x.Seq})
		}
	}
}
