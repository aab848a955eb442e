package ask

import (
	"strings"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// Called names the question.
func (q Question) Called() string { return q.Name }

// soFar says what has been answered of one question.
func (q Question) soFar(c *engine.Talk) string {
	return c.V.Say("so-far", "counts", strings.Join(q.answered(c), ", "))
}

// Answered lists the answered lines, unless the question was passed over; of
// figures that are known together, their total.
func (q Question) Answered(c *engine.Talk) []string {
	if total := q.total(c); total != "" {
		return []string{c.V.Money(cashmath.AmountOf(total))}
	}
	if q.Passed != nil && q.Passed(c) || q.LeftOut != "" && c.State.Draft.Choices[q.LeftOut] != "" {
		return nil
	}
	return q.answered(c)
}

// answered lists the answered lines of a question, like "20s 150".
func (q Question) answered(c *engine.Talk) []string {
	return telling.Answered(c.Teller, q.Lines(c), c.Counted(q.Name))
}

// total is the only figure that is known of all lines; empty for none.
func (q Question) total(c *engine.Talk) string {
	if q.Total == nil {
		return ""
	}
	return c.State.Draft.Choices[q.LeftOut]
}

// Noughts reports whether each line that is answered is none.
func (q Question) Noughts(c *engine.Talk) bool {
	return q.total(c) == "" && lines.Sum(c.Counted(q.Name)) == 0
}

// Kept reports whether the answers stand in a record by now.
func (q Question) Kept(c *engine.Talk) bool { return q.Stands != nil && q.Stands(c) }

// Retype gives the answers as they could be typed again: by the kind of note, or
// by the box where two boxes hold one kind, or their total. Empty where nothing is to be typed.
func (q Question) Retype(c *engine.Talk) string {
	if total := q.total(c); total != "" {
		return "total " + total
	}
	lines, v := q.Lines(c), c.Counted(q.Name)
	if len(v) != len(lines) {
		return ""
	}
	typed := telling.Retyped(c.Teller, lines, v, q.Partial || q.None)
	if typed == "" && q.None {
		return "0"
	}
	return typed
}
