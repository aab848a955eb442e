package correct

import (
	"cmp"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/mending"
	"shopfloat/internal/telling"
)

// valueOf is the figure as it was corrected in the draft, or as it is.
func valueOf(c *engine.Talk, s mending.Slot) decimal.Decimal {
	if typed, ok := drafted(c).Values[s.ID()]; ok {
		return typed
	}
	return s.Value
}

// altered reports whether any figure is another one in the draft.
func altered(c *engine.Talk, slots []mending.Slot) bool {
	return slices.ContainsFunc(slots, func(s mending.Slot) bool { return !valueOf(c, s).Equal(s.Value) })
}

// askSlot asks for the figure that was chosen, if one was.
func askSlot(c *engine.Talk) *engine.Card {
	e, ok := wrong(c)
	s, open := mending.Find(slots(c, e), drafted(c).Open)
	if !ok || !open {
		return nil
	}
	what, now := telling.SlotName(c.Teller, s), telling.SlotValue(c.Teller, s, s.Value)
	return &engine.Card{Body: []chat.Block{chat.Lines(c.V.Say("ask.correct-figure", "what", what, "now", now))}}
}

// slotOptions are the figures of the record in the draft, to be changed one by one.
func slotOptions(c *engine.Talk) (list []ask.Option) {
	e, ok := wrong(c)
	if !ok {
		return nil
	}
	slots := slots(c, e)
	for i, s := range slots {
		label := c.V.Say("button.slot", "what", telling.SlotName(c.Teller, s),
			"n", telling.SlotValue(c.Teller, s, valueOf(c, s)))
		list = append(list, ask.Option{Label: label, Value: "slot-" + strconv.Itoa(i),
			Take: func(c *engine.Talk) { drafted(c).Open = s.ID() }})
	}
	if altered(c, slots) {
		list = append(list,
			ask.Option{Label: c.V.Say("button.slots-done"), Value: "done", Take: engine.GoBack("reason")})
	}
	return list
}

// answerFigures takes the right number of notes, or the right amount.
func answerFigures(c *engine.Talk, s string) bool {
	e, ok := wrong(c)
	d := drafted(c)
	at, there := mending.Find(slots(c, e), cmp.Or(d.Open, d.Last))
	value, typed := ask.Amount(c, s)
	if !ok || !there || !typed || value.IsNegative() {
		return false
	}
	most := mending.MostNotes(c.Kit.Boxes, at.Figure)
	if at.Amount == 0 && (!value.IsInteger() || value.GreaterThan(decimal.NewFromInt(most))) {
		c.First(c.V.Say("correct.notes", "max", c.V.Number(most)))
		return true
	}
	if d.Values == nil {
		d.Values = map[string]decimal.Decimal{}
	}
	d.Values[at.ID()] = value
	d.Last, d.Open = at.ID(), "" // the next number typed is for it again
	return true
}

// slots are the figures of a record that can be corrected.
func slots(c *engine.Talk, e books.Entry) []mending.Slot {
	return mending.Slots(e, c.M.Period(e.Period), ask.KindLines(c))
}

// redrawn gives the record with the figures of the draft.
func redrawn(c *engine.Talk, e books.Entry) books.Record {
	return mending.Redrawn(e, slots(c, e), func(s mending.Slot) decimal.Decimal { return valueOf(c, s) })
}
