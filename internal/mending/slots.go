package mending

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// Slot is one figure of a record that can be corrected: notes, or an amount.
type Slot struct {
	Figure books.Figure
	Move   int // of a movement, from 1; 0: none
	Amount int // of an amount, from 1; 0: none
	Value  decimal.Decimal
}

// ID tells a slot from the others of its record. It stays the same when another
// person corrects the record and figures move up in it.
func (s Slot) ID() string {
	return fmt.Sprintf("%s.%d.%s.%d.%d", s.Figure.Field, s.Figure.Box, s.Figure.Face, s.Move, s.Amount)
}

// Find gives the slot of an id.
func Find(slots []Slot, id string) (Slot, bool) {
	i := slices.IndexFunc(slots, func(s Slot) bool { return id != "" && s.ID() == id })
	if i < 0 {
		return Slot{}, false
	}
	return slots[i], true
}

// Slots are the figures of a record, and those that it could have had. Of its period, and
// of the kinds of note of the machine, it takes what may be missing.
func Slots(e books.Entry, p *books.Period, kinds []lines.Line) []Slot {
	var list []Slot
	add := func(f books.Figure) { list = append(list, Slot{Figure: f, Value: decimal.NewFromInt(f.Notes)}) }
	switch e.Kind {
	case books.Matched:
		return nil // it has no sum of its own
	case books.Credit, books.Debit:
		if e.Line != nil {
			return nil // the sum is that of the bank's own line
		}
	case books.Moved:
		for i, m := range e.Moves {
			list = append(list, Slot{Move: i + 1, Figure: books.Figure{Face: m.Face},
				Value: decimal.NewFromInt(m.Notes)})
		}
		return list
	}
	for i, a := range e.Amounts {
		if slices.Contains(summed, a.Field) {
			list = append(list, Slot{Amount: i + 1, Figure: books.Figure{Field: a.Field}, Value: a.Value})
		}
	}
	for _, f := range e.Figures {
		add(f)
	}
	for _, f := range unsaid(e, p, kinds) {
		add(f)
	}
	return list
}

// summed are the fields of a record that tell money.
var summed = []books.Field{books.PaidOut, books.Cancelled, books.Credited, books.Debited}

// unsaid are figures that a record leaves out where they are none.
func unsaid(e books.Entry, p *books.Period, kinds []lines.Line) []books.Figure {
	var list []books.Figure
	missing := func(f books.Figure) {
		if !slices.ContainsFunc(e.Figures, func(x books.Figure) bool {
			return x.Field == f.Field && x.Box == f.Box && x.Face == f.Face
		}) {
			list = append(list, f)
		}
	}
	for _, l := range kinds {
		switch {
		case e.Kind == books.Count && !e.Has(books.NoTray):
			missing(books.Figure{Field: books.Refused, Face: l.Face})
		case e.Kind == books.Settlement && len(e.Amounts) == 0:
			missing(books.Figure{Field: books.PaidOut, Face: l.Face})
			missing(books.Figure{Field: books.Cancelled, Face: l.Face})
		}
	}
	if e.Kind == books.TopUp && p != nil {
		for _, b := range p.Boxes {
			missing(books.Figure{Field: books.Added, Box: b.Position, Face: b.Face})
		}
	}
	return list
}

// MostNotes bounds a figure: what its box holds, or far more than any day pays.
func MostNotes(boxes []shop.Box, f books.Figure) int64 {
	for _, b := range boxes {
		if b.Position == f.Box {
			return b.Capacity
		}
	}
	return maxTold
}

// maxTold is more notes of one kind than any day of a shop sees.
const maxTold = 100_000

// Redrawn gives a record with other figures in its slots.
func Redrawn(e books.Entry, slots []Slot, value func(Slot) decimal.Decimal) books.Record {
	r := e.Record
	r.Figures, r.Moves, r.Amounts = nil, slices.Clone(e.Moves), slices.Clone(e.Amounts)
	for _, s := range slots {
		v := value(s)
		switch {
		case s.Move > 0:
			r.Moves[s.Move-1].Notes = v.IntPart()
		case s.Amount > 0:
			r.Amounts[s.Amount-1].Value = v
		case v.IsPositive() || keepsNone(s.Figure.Field):
			s.Figure.Notes = v.IntPart()
			r.Figures = append(r.Figures, s.Figure)
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
