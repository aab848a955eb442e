package dialogs

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
)

// closedThen says why nothing can be added at the time in the draft: the day is
// closed, which is the period then given, or the machine was not open. It is
// empty for what happens now and where a period can still take something.
func (c *talk) closedThen() (why string, closed *books.Period) {
	then := c.State.Draft.Happened
	if then.IsZero() {
		return "", nil
	}
	var at *books.Period
	for _, p := range c.look().Periods {
		if !p.Opened.After(then) && (at == nil || p.Opened.After(at.Opened)) {
			at = p
		}
	}
	switch {
	case at != nil && at.Status != books.Closed:
		return "", nil
	case at == nil || then.After(at.Ended) && !sameDay(c.local(then), c.local(at.Ended)):
		return c.v.Say("then-not-open", "when", c.dayClock(then)), nil
	}
	return c.v.Say("then-closed", "when", c.clock(at.Ended), "who", c.name(at.EndedBy),
		"date", c.dateWord(at)), at
}

// dateWord writes the day of a period as it can be typed: 25 november.
func (c *talk) dateWord(p *books.Period) string {
	d := c.dayOf(p).Time()
	return strconv.Itoa(d.Day()) + " " + c.v.List("words.months")[int(d.Month())-1]
}

// askClosedDay offers the correction of a closed day to those who may.
func (c *talk) askClosedDay() *card {
	why, p := c.closedThen()
	if p == nil {
		c.goTo("what")
		return nil
	}
	k := &card{body: []Block{{Text: why}}}
	if c.may(doCorrect) {
		k.buttons = append(k.buttons, c.button("correct-that-day", "correct"))
	}
	k.buttons = append(k.buttons, c.button("other-time", "other-time"))
	return k
}

// correctThatDay goes over to the records of the closed day.
func (c *talk) correctThatDay() {
	_, p := c.closedThen()
	if p == nil || !c.may(doCorrect) {
		return
	}
	c.State.Draft.Happened = time.Time{} // a correction is made now
	c.enter(doCorrect)
	c.e.flows[doCorrect].start(c)
	c.choose("pool", string(reminders.DayOf(c.f.Shop, p.Opened)))
}
