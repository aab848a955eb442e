package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/cashmath"
)

// Called names the question.
func (q question) Called() string { return q.name }

// soFar says what has been answered of one question.
func (q question) soFar(c *talk) string {
	return c.v.Say("so-far", "counts", strings.Join(q.answered(c), ", "))
}

// Answered lists the answered lines, unless the question was passed over.
func (q question) Answered(c *talk) []string {
	if q.leftOut != "" && c.chosen(q.leftOut) != "" {
		return nil
	}
	return q.answered(c)
}

// answered lists the answered lines of a question, like "20s 150".
func (q question) answered(c *talk) (out []string) {
	lines := q.lines(c)
	for i, n := range c.State.Draft.Counts[q.name] {
		if n != unanswered && i < len(lines) {
			out = append(out, c.v.Kind(lines[i].face)+" "+c.v.Number(n))
		}
	}
	return out
}

// Noughts reports whether each line that is answered is none.
func (q question) Noughts(c *talk) bool { return sum(c.State.Draft.Counts[q.name]) == 0 }

// Kept reports whether the answers stand in a record by now.
func (q question) Kept(c *talk) bool { return q.stands != nil && q.stands(c) }

// Retype gives the answers as they could be typed again: by the kind of note, or
// by the box where two boxes hold one kind. Empty where nothing is to be typed.
func (q question) Retype(c *talk) string {
	lines, v := q.lines(c), c.State.Draft.Counts[q.name]
	if len(v) != len(lines) {
		return ""
	}
	var parts []string
	kinds := map[cashmath.Face]int{}
	for _, l := range lines {
		kinds[l.face]++
	}
	for i, l := range lines {
		switch {
		case v[i] == unanswered, v[i] == 0 && (q.partial || q.none):
		case kinds[l.face] > 1:
			parts = append(parts, c.boxName(l.box)+": "+strconv.FormatInt(v[i], 10))
		default:
			parts = append(parts, string(l.face)+"x"+strconv.FormatInt(v[i], 10))
		}
	}
	if len(parts) == 0 && q.none {
		return "0"
	}
	return strings.Join(parts, ", ")
}
