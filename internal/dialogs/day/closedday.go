package day

import (
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
)

// askClosedDay offers the correction of a closed day to those who may.
func askClosedDay(c *engine.Talk) *engine.Card {
	why, p := trade.ClosedThen(c)
	if p == nil {
		c.GoTo("what")
		return nil
	}
	k := &engine.Card{Body: []chat.Block{{Text: why}}}
	if c.May(engine.DoCorrect) {
		k.Buttons = append(k.Buttons, c.Button("correct-that-day", "correct"))
	}
	k.Buttons = append(k.Buttons, c.Button("other-time", "other-time"))
	return k
}

// correctThatDay goes over to the records of the closed day.
func correctThatDay(c *engine.Talk) {
	_, p := trade.ClosedThen(c)
	if p == nil || !c.May(engine.DoCorrect) {
		return
	}
	c.State.Draft.Happened = time.Time{} // a correction is made now
	c.Enter(engine.DoCorrect)
	c.Rest = string(reminders.DayOf(c.F.Shop, p.Opened)) // its records are to be chosen from
	c.E.Flows[engine.DoCorrect].Start(c)
}
