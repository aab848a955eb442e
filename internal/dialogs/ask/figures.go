package ask

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// Notes are those that were answered so far, by kind.
func (q Question) Notes(c *engine.Talk) books.Notes { return lines.NotesOf(q.Lines(c), q.Values(c)) }

// Amount reads money as people type it.
func Amount(c *engine.Talk, s string) (decimal.Decimal, bool) {
	text, code := counts.ParseAmount(telling.SlipSays(c.Teller, s), c.Digits())
	if code != counts.OK {
		return decimal.Zero, false
	}
	return cashmath.AmountOf(text), true
}

// Payable reports whether the machine's notes can make an amount, and says so if they cannot.
func Payable(c *engine.Talk, amount string) bool {
	money, digits := cashmath.AmountOf(amount), int32(c.Digits())
	var values []int64
	for _, f := range faces(c) {
		values = append(values, cashmath.Value(f, 1).Shift(digits).IntPart())
	}
	minor := money.Shift(digits)
	if minor.Equal(minor.Truncate(0)) && cashmath.Makes(minor.IntPart(), values) {
		return true
	}
	kinds := telling.LineOrder(c.Teller, KindLines(c))
	c.First(c.V.Say("problem.no-notes-make", "money", c.V.Money(money), "kinds", kinds))
	return false
}

// A Line is one thing a count is asked for.
type Line = lines.Line

// None answers every line of a question about kinds of note with none.
func None(c *engine.Talk, name string) { c.Put(name, make([]int64, len(faces(c)))) }

// BoxNamed finds the one box that a text names; -1 for none.
func BoxNamed(c *engine.Talk, s string) int {
	if c.Kit == nil {
		return -1
	}
	res := counts.Parse(s+": 1", Request(c, BoxLines(c), 0, Question{})) // read as the key of one note
	if len(res.Items) != 1 || res.Problem != nil || res.Bare || res.Items[0].Notes != 1 {
		return -1
	}
	return res.Items[0].Line
}

// Names of lines that what is asked hides.
var halfOf, unread, unfinished, byLine = lines.Half, lines.Unread, lines.Unfinished, lines.ByLine
var noughtOf, emptyAgain, denied, loneMoney = lines.Nought, lines.EmptyAgain, lines.Denied, lines.LoneMoney
