package correct

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// slot is one figure of a record that can be corrected: notes, or an amount.
type slot struct {
	figure books.Figure
	move   int // of a movement, from 1; 0: none
	amount int // of an amount, from 1; 0: none
	value  decimal.Decimal
}

// id tells a slot from the others of its record. It stays the same when another
// person corrects the record and figures move up in it.
func (s slot) id() string {
	return fmt.Sprintf("%s.%d.%s.%d.%d", s.figure.Field, s.figure.Box, s.figure.Face, s.move, s.amount)
}

// find gives the slot of an id.
func find(slots []slot, id string) (slot, bool) {
	i := slices.IndexFunc(slots, func(s slot) bool { return id != "" && s.id() == id })
	if i < 0 {
		return slot{}, false
	}
	return slots[i], true
}

// slots are the figures of a record, and those that it could have had.
func slots(c *engine.Talk, e books.Entry) []slot {
	var list []slot
	add := func(f books.Figure) { list = append(list, slot{figure: f, value: decimal.NewFromInt(f.Notes)}) }
	switch e.Kind {
	case books.Credit, books.Debit, books.Matched:
		return nil // shared out among days: it is taken back and told anew
	case books.Moved:
		for i, m := range e.Moves {
			list = append(list, slot{move: i + 1, figure: books.Figure{Face: m.Face},
				value: decimal.NewFromInt(m.Notes)})
		}
		return list
	}
	for i, a := range e.Amounts {
		if a.Field == books.PaidOut || a.Field == books.Cancelled {
			list = append(list, slot{amount: i + 1, figure: books.Figure{Field: a.Field}, value: a.Value})
		}
	}
	for _, f := range e.Figures {
		add(f)
	}
	for _, f := range unsaid(c, e) {
		add(f)
	}
	return list
}

// unsaid are figures that a record leaves out where they are none.
func unsaid(c *engine.Talk, e books.Entry) []books.Figure {
	var list []books.Figure
	missing := func(f books.Figure) {
		if !slices.ContainsFunc(e.Figures, func(x books.Figure) bool {
			return x.Field == f.Field && x.Box == f.Box && x.Face == f.Face
		}) {
			list = append(list, f)
		}
	}
	for _, l := range ask.KindLines(c) {
		switch {
		case e.Kind == books.Count && !e.Has(books.NoTray):
			missing(books.Figure{Field: books.Refused, Face: l.Face})
		case e.Kind == books.Settlement && len(e.Amounts) == 0:
			missing(books.Figure{Field: books.PaidOut, Face: l.Face})
			missing(books.Figure{Field: books.Cancelled, Face: l.Face})
		}
	}
	if p := c.M.Period(e.Period); e.Kind == books.TopUp && p != nil {
		for _, b := range p.Boxes {
			missing(books.Figure{Field: books.Added, Box: b.Position, Face: b.Face})
		}
	}
	return list
}

// slotName words what a figure is: 20s, left in the box.
func slotName(c *engine.Talk, s slot) string {
	switch {
	case s.amount > 0:
		return c.V.Say("field." + string(s.figure.Field))
	case s.move > 0:
		return c.V.Kind(s.figure.Face)
	}
	return c.V.Say("slot", "kind", c.V.Kind(s.figure.Face), "field",
		c.V.Say("told-field."+string(s.figure.Field)))
}

func slotValue(c *engine.Talk, s slot, v decimal.Decimal) string {
	if s.amount > 0 {
		return c.V.Money(v)
	}
	return c.V.Number(v.IntPart())
}

// valueOf is the figure as it was corrected in the draft, or as it is.
func valueOf(c *engine.Talk, s slot) decimal.Decimal {
	if typed, ok := drafted(c).Values[s.id()]; ok {
		return typed
	}
	return s.value
}

// altered reports whether any figure is another one in the draft.
func altered(c *engine.Talk, slots []slot) bool {
	return slices.ContainsFunc(slots, func(s slot) bool { return !valueOf(c, s).Equal(s.value) })
}

// askSlot asks for the figure that was chosen, if one was.
func askSlot(c *engine.Talk) *engine.Card {
	e, ok := wrong(c)
	s, open := find(slots(c, e), drafted(c).Open)
	if !ok || !open {
		return nil
	}
	return &engine.Card{Body: []chat.Block{chat.Lines(c.V.Say("ask.correct-figure", "what", slotName(c, s),
		"now", slotValue(c, s, s.value)))}}
}

// slotOptions are the figures of the record in the draft, to be changed one by one.
func slotOptions(c *engine.Talk) (list []ask.Option) {
	e, ok := wrong(c)
	if !ok {
		return nil
	}
	slots := slots(c, e)
	for i, s := range slots {
		label := c.V.Say("button.slot", "what", slotName(c, s), "n", slotValue(c, s, valueOf(c, s)))
		list = append(list, ask.Option{Label: label, Value: "slot-" + strconv.Itoa(i),
			Take: func(c *engine.Talk) { drafted(c).Open = s.id() }})
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
	at, there := find(slots(c, e), cmp.Or(d.Open, d.Last))
	value, typed := ask.Amount(c, s)
	if !ok || !there || !typed || value.IsNegative() {
		return false
	}
	most := mostNotes(c, at.figure)
	if at.amount == 0 && (!value.IsInteger() || value.GreaterThan(decimal.NewFromInt(most))) {
		c.First(c.V.Say("correct.notes", "max", c.V.Number(most)))
		return true
	}
	if d.Values == nil {
		d.Values = map[string]decimal.Decimal{}
	}
	d.Values[at.id()] = value
	d.Last, d.Open = at.id(), "" // the next number typed is for it again
	return true
}

// mostNotes bounds a figure: what its box holds, or far more than any day pays.
func mostNotes(c *engine.Talk, f books.Figure) int64 {
	for _, b := range c.Kit.Boxes {
		if b.Position == f.Box {
			return b.Capacity
		}
	}
	return maxTold
}

// maxTold is more notes of one kind than any day of a shop sees.
const maxTold = 100_000

// redrawn gives the record with the figures of the draft.
func redrawn(c *engine.Talk, e books.Entry) books.Record {
	r := e.Record
	r.Figures, r.Moves, r.Amounts = nil, slices.Clone(e.Moves), slices.Clone(e.Amounts)
	for _, s := range slots(c, e) {
		v := valueOf(c, s)
		switch {
		case s.move > 0:
			r.Moves[s.move-1].Notes = v.IntPart()
		case s.amount > 0:
			r.Amounts[s.amount-1].Value = v
		case v.IsPositive() || keepsNone(s.figure.Field):
			s.figure.Notes = v.IntPart()
			r.Figures = append(r.Figures, s.figure)
		}
	}
	r.Moves = slices.DeleteFunc(r.Moves, func(m books.Move) bool { return m.Notes == 0 })
	if len(r.Moves) == 0 {
		r.Moves = nil
	}
	return r
}

// keepsNone: an empty box is told as such.
func keepsNone(f books.Field) bool {
	return f == books.Loaded || f == books.Remaining || f == books.Left
}
