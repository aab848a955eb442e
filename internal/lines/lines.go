// Package lines is what a count is asked for, line by line: note boxes or kinds of
// note, what was counted of them, and why a count is probably a slip.
package lines

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// UsualCapacity is taken for the notes that fit into a box of which nobody said it.
// Common practice, no source.
const UsualCapacity = 2000

// Line is one thing a count is asked for: a note box, or a kind of note.
type Line struct {
	Box      int // position; 0 for a kind of note wherever it lies
	Of       int // how many boxes there are
	Face     cashmath.Face
	Capacity int64 // most notes it can be; 0 unknown
	Low      int64 // from here on down a box is nearly empty
	Usual    int64 // what this shop usually has; 0 unknown or not to be shown
}

// Of are note boxes from top to bottom.
func Of(boxes []shop.Box) []Line {
	list := make([]Line, len(boxes))
	for i, b := range boxes {
		list[i] = Line{Box: b.Position, Of: len(boxes), Face: b.Face, Capacity: b.Capacity, Low: b.Low}
	}
	return list
}

// Kinds are kinds of note.
func Kinds(faces []cashmath.Face) []Line {
	var list []Line
	for _, f := range faces {
		list = append(list, Line{Face: f})
	}
	return list
}

// The orders in which a slip may list kinds of note, other than that of the boxes.
const (
	HighFirst = "high"
	LowFirst  = "low"
)

// InOrder are kinds of note as a slip lists them.
func InOrder(faces []cashmath.Face, order string) []cashmath.Face {
	list := slices.Clone(faces)
	switch order {
	case HighFirst:
		slices.SortFunc(list, func(a, b cashmath.Face) int { return b.Cmp(a) })
	case LowFirst:
		slices.SortFunc(list, cashmath.Face.Cmp)
	}
	return list
}

// Reordered gives counts in the only order in which they fit, where that is another one
// than they were typed in; nil: they fit as they are, or in no order.
func Reordered(v []int64, fit func([]int64) bool) []int64 {
	if fit(v) {
		return nil
	}
	var found []int64
	var try func(x []int64, at int)
	try = func(x []int64, at int) {
		if at == len(x) && fit(x) {
			found = slices.Clone(x)
		}
		for i := at; i < len(x) && found == nil; i++ {
			x[at], x[i] = x[i], x[at]
			try(x, at+1)
			x[at], x[i] = x[i], x[at]
		}
	}
	try(slices.Clone(v), 0)
	return found
}

// Boxes are the note boxes of a period as they were loaded, where the settings changed
// since, else those laid down.
func Boxes(p *books.Period, now []shop.Box) []shop.Box {
	if p == nil || slices.EqualFunc(p.Boxes, now, func(a books.BoxState, b shop.Box) bool {
		return a.Position == b.Position && a.Face == b.Face
	}) {
		return now
	}
	boxes := make([]shop.Box, len(p.Boxes))
	for i, b := range p.Boxes {
		boxes[i] = shop.Box{Position: b.Position, Face: b.Face, Capacity: UsualCapacity}
		for _, n := range now {
			if n.Position == b.Position {
				boxes[i].Capacity = max(n.Capacity, b.Loaded)
			}
		}
	}
	return boxes
}

// Sum adds up counts; a line that is not answered is less than none.
func Sum(v []int64) (n int64) {
	for _, x := range v {
		n += max(x, 0)
	}
	return n
}

// NotesOf adds up counts by kind of note.
func NotesOf(list []Line, v []int64) books.Notes {
	notes := books.Notes{}
	for i, l := range list {
		if i < len(v) {
			notes.Plus(l.Face, max(v[i], 0))
		}
	}
	return notes
}

// Counts is the way back from NotesOf: how many notes there are for each line.
func Counts(list []Line, notes books.Notes) []int64 {
	v := make([]int64, len(list))
	for i, l := range list {
		v[i] = notes[l.Face]
	}
	return v
}

// Figures turns counts into figures of a record, noughts only where they are wanted.
func Figures(field books.Field, list []Line, v []int64, zeros bool) (figs []books.Figure) {
	for i, l := range list {
		if v[i] > 0 || zeros && v[i] == 0 {
			figs = append(figs, books.Figure{Field: field, Box: l.Box, Face: l.Face, Notes: v[i]})
		}
	}
	return figs
}

// FiguresOf makes figures of notes by kind.
func FiguresOf(field books.Field, notes books.Notes) (figs []books.Figure) {
	for _, f := range notes.Faces() {
		figs = append(figs, books.Figure{Field: field, Face: f, Notes: notes[f]})
	}
	return figs
}

// Remaining is what was counted in each box of a period.
func Remaining(p *books.Period) []int64 {
	v := make([]int64, len(p.Boxes))
	for i, b := range p.Boxes {
		v[i] = b.Remaining
	}
	return v
}

// Forgotten is what was counted in a period's boxes, those of a kind of which nothing was not
// answered: -1. Nil where the kind has no box or something was counted in one.
func Forgotten(p *books.Period, face cashmath.Face) []int64 {
	v, has := Remaining(p), false
	for i, b := range p.Boxes {
		switch {
		case b.Face != face:
		case b.Remaining != 0:
			return nil
		default:
			v[i], has = -1, true
		}
	}
	if !has {
		return nil
	}
	return v
}

// InOneBox reports whether a period has just one box of a kind.
func InOneBox(p *books.Period, face cashmath.Face) bool {
	boxes := 0
	for _, b := range p.Boxes {
		if b.Face == face {
			boxes++
		}
	}
	return boxes == 1
}
