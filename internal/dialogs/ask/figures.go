package ask

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/engine"
)

// Notes are those that were answered so far, by kind.
func (q Question) Notes(c *engine.Talk) (n books.Notes) {
	for i, l := range q.Lines(c) {
		n.Plus(l.Face, max(q.Values(c)[i], 0))
	}
	return n
}

// Amount reads money as people type it.
func Amount(c *engine.Talk, s string) (decimal.Decimal, bool) {
	text, code := counts.ParseAmount(s, c.Digits())
	if code != counts.OK {
		return decimal.Zero, false
	}
	return engine.AmountOf(text), true
}

// BoxFigures turns the counts of a question about boxes into figures.
func BoxFigures(field books.Field, lines []Line, v []int64, zeros bool) []books.Figure {
	var figs []books.Figure
	for i, l := range lines {
		if v[i] > 0 || zeros && v[i] == 0 {
			figs = append(figs, books.Figure{Field: field, Box: l.Box, Face: l.Face, Notes: v[i]})
		}
	}
	return figs
}

// TrayReview says what was counted in the box for refused notes, unless it was
// passed over.
func TrayReview(c *engine.Talk, tray books.Notes, passed bool) string {
	switch {
	case passed:
		return c.V.Say("review.no-tray")
	case len(tray) > 0:
		return c.V.Say("review.tray", "notes", c.Notes(tray))
	}
	return c.V.Say("review.tray-empty")
}

// Payable reports whether the machine's notes can make an amount, and says so
// if they cannot.
func Payable(c *engine.Talk, amount string) bool {
	money, digits := engine.AmountOf(amount), int32(c.Digits())
	var values []int64
	for _, f := range faces(c) {
		values = append(values, cashmath.Value(f, 1).Shift(digits).IntPart())
	}
	minor := money.Shift(digits)
	if minor.Equal(minor.Truncate(0)) && cashmath.Makes(minor.IntPart(), values) {
		return true
	}
	c.First(c.V.Say("problem.no-notes-make", "money", c.V.Money(money), "kinds", order(c, KindLines(c))))
	return false
}

// Line is one thing a count is asked for: a note box, or a kind of note.
type Line struct {
	Box      int // position; 0 for a kind of note wherever it lies
	Face     cashmath.Face
	Capacity int64 // most notes it can be; 0 unknown
	Usual    int64 // what this shop usually has; 0 unknown or not to be shown
	bundle   int64
}

// None answers every line of a question about kinds of note with none.
func None(c *engine.Talk, name string) { c.Put(name, make([]int64, len(faces(c)))) }

// CountTable shows lines with their notes and money, and the total below.
func CountTable(c *engine.Talk, lines []Line, v []int64) (chat.Block, decimal.Decimal) {
	var total decimal.Decimal
	rows := make([][]string, 0, len(lines)+1)
	for i, l := range lines {
		if v[i] < 0 {
			continue
		}
		money := cashmath.Value(l.Face, v[i])
		total = total.Add(money)
		row := []string{c.V.Kind(l.Face), c.V.Count("notes", v[i]), c.V.Money(money)}
		if l.Box > 0 {
			row = append([]string{boxShort(c, l.Box)}, row...)
		}
		rows = append(rows, row)
	}
	if len(rows) > 1 {
		last := make([]string, len(rows[0]))
		last[len(last)-1] = c.V.Money(total)
		rows = append(rows, last)
	}
	left := 1
	if len(lines) > 0 && lines[0].Box > 0 {
		left = 2
	}
	return chat.Columns(left, rows), total
}

// boxShort names a box in a table.
func boxShort(c *engine.Talk, position int) string {
	return c.V.Say("box-short."+boxPlace(c, position), "n", position)
}

// Sum adds up counts.
func Sum(v []int64) int64 {
	var n int64
	for _, x := range v {
		n += max(x, 0)
	}
	return n
}

// BoxNamed finds the one box that a text names; -1 for none.
func BoxNamed(c *engine.Talk, s string) int {
	if c.Kit == nil {
		return -1
	}
	lines := BoxLines(c)
	res := counts.Parse(s+": 1", Request(c, lines, 0, Question{})) // read as the key of one note
	if len(res.Items) != 1 || res.Problem != nil || res.Bare || res.Items[0].Notes != 1 {
		return -1
	}
	return res.Items[0].Line
}
