package dialogs

import (
	"cmp"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// slot is one figure of a record that can be corrected: notes, or an amount.
type slot struct {
	figure books.Figure
	move   int // of a movement, from 1; 0: none
	amount int // of an amount, from 1; 0: none
	value  decimal.Decimal
}

// slots are the figures of a record, and those that it could have had.
func (c *talk) slots(e books.Entry) []slot {
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
	for _, f := range c.unsaid(e) {
		add(f)
	}
	return list
}

// unsaid are figures that a record leaves out where they are none.
func (c *talk) unsaid(e books.Entry) []books.Figure {
	var list []books.Figure
	missing := func(f books.Figure) {
		if !slices.ContainsFunc(e.Figures, func(x books.Figure) bool {
			return x.Field == f.Field && x.Box == f.Box && x.Face == f.Face
		}) {
			list = append(list, f)
		}
	}
	for _, l := range kindLines(c) {
		switch {
		case e.Kind == books.Count && !e.Has(books.NoTray):
			missing(books.Figure{Field: books.Refused, Face: l.face})
		case e.Kind == books.Settlement && len(e.Amounts) == 0:
			missing(books.Figure{Field: books.PaidOut, Face: l.face})
			missing(books.Figure{Field: books.Cancelled, Face: l.face})
		}
	}
	if p := c.m.Period(e.Period); e.Kind == books.TopUp && p != nil {
		for _, b := range p.Boxes {
			missing(books.Figure{Field: books.Added, Box: b.Position, Face: b.Face})
		}
	}
	return list
}

// slotName words what a figure is: 20s, left in the box.
func (c *talk) slotName(s slot) string {
	switch {
	case s.amount > 0:
		return c.v.Say("field." + string(s.figure.Field))
	case s.move > 0:
		return c.v.Kind(s.figure.Face)
	}
	return c.v.Say("slot", "kind", c.v.Kind(s.figure.Face), "field",
		c.v.Say("told-field."+string(s.figure.Field)))
}

func (c *talk) slotValue(s slot, v decimal.Decimal) string {
	if s.amount > 0 {
		return c.v.Money(v)
	}
	return c.v.Number(v.IntPart())
}

// valueOf is the figure as it was corrected in the draft, or as it is.
func (c *talk) valueOf(i int, s slot) decimal.Decimal {
	if typed := c.chosen("slot." + strconv.Itoa(i)); typed != "" {
		return amountOf(typed)
	}
	return s.value
}

// altered reports whether any figure is another one in the draft.
func (c *talk) altered(slots []slot) bool {
	for i, s := range slots {
		if !c.valueOf(i, s).Equal(s.value) {
			return true
		}
	}
	return false
}

// askSlot asks for the figure that was chosen, if one was.
func askSlot(c *talk) *card {
	e, ok := c.wrong()
	slots := c.slots(e)
	i, open := index(c.chosen("open"), len(slots))
	if !ok || !open {
		return nil
	}
	return &card{body: []Block{text(c.v.Say("ask.correct-figure", "what", c.slotName(slots[i]),
		"now", c.slotValue(slots[i], slots[i].value)))}}
}

// slotOptions are the figures of the record in the draft, to be changed one by one.
func slotOptions(c *talk) (list []option) {
	e, ok := c.wrong()
	if !ok {
		return nil
	}
	slots := c.slots(e)
	for i, s := range slots {
		label := c.v.Say("button.slot", "what", c.slotName(s), "n", c.slotValue(s, c.valueOf(i, s)))
		list = append(list, option{label: label, value: "slot-" + strconv.Itoa(i),
			take: func(c *talk) { c.choose("open", strconv.Itoa(i)) }})
	}
	if c.altered(slots) {
		list = append(list, option{label: c.v.Say("button.slots-done"), value: "done", take: goBack("reason")})
	}
	return list
}

// answerFigures takes the right number of notes, or the right amount.
func answerFigures(c *talk, s string) bool {
	e, ok := c.wrong()
	i, err := strconv.Atoi(cmp.Or(c.chosen("open"), c.chosen("last")))
	if !ok || err != nil {
		return false
	}
	slots := c.slots(e)
	value, typed := c.amount(s)
	if i >= len(slots) || !typed || value.IsNegative() {
		return false
	}
	if slots[i].amount == 0 && (!value.IsInteger() ||
		value.GreaterThan(decimal.NewFromInt(c.mostNotes(slots[i].figure)))) {
		c.first(c.v.Say("correct.notes", "max", c.v.Number(c.mostNotes(slots[i].figure))))
		return true
	}
	c.choose("slot."+strconv.Itoa(i), value.String())
	c.choose("last", strconv.Itoa(i)) // the next number typed is for it again
	c.forget("open")
	return true
}

// mostNotes bounds a figure: what its box holds, or far more than any day pays.
func (c *talk) mostNotes(f books.Figure) int64 {
	for _, b := range c.kit.Boxes {
		if b.Position == f.Box {
			return b.Capacity
		}
	}
	return maxTold
}

// maxTold is more notes of one kind than any day of a shop sees.
const maxTold = 100_000

// redrawn gives the record with the figures of the draft.
func (c *talk) redrawn(e books.Entry) books.Record {
	r := e.Record
	r.Figures, r.Moves, r.Amounts = nil, slices.Clone(e.Moves), slices.Clone(e.Amounts)
	for i, s := range c.slots(e) {
		v := c.valueOf(i, s)
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
