package dialogs

import "strings"

// soFar says what has been answered of one question.
func (q question) soFar(c *talk) string {
	return c.v.Say("so-far", "counts", strings.Join(q.answered(c), ", "))
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

// draftSoFar says what has been answered of all questions so far, each part
// under its name once there are several.
func (c *talk) draftSoFar() string {
	var parts []string
	var only question
	for _, q := range c.flow().asks {
		answered := q.answered(c)
		if len(answered) == 0 || q.leftOut != "" && c.chosen(q.leftOut) != "" {
			continue
		}
		only = q
		if sum(c.State.Draft.Counts[q.name]) == 0 {
			answered = []string{c.v.Say("part-none")}
		}
		parts = append(parts, c.v.Say("part."+q.name)+": "+strings.Join(answered, ", "))
	}
	switch len(parts) {
	case 0:
		return c.v.Say("nothing-so-far")
	case 1:
		return only.soFar(c)
	}
	return c.v.Say("parts-so-far") + "\n" + strings.Join(parts, "\n")
}
