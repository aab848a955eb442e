package dialogs

import (
	"cmp"
	"strconv"
)

// A changing offers what was answered to be answered anew, line by line.
// Whatever is typed at its card is taken as where it is read back.
type changing struct {
	asks    string                   // catalogue name; empty: which line to change
	options func(*talk) []option     // see [question.reopening]
	answer  func(*talk, string) bool // see [typedCounts]
	foot    func(*talk) [][]Button
	taps    map[string]func(*talk)
	back    string
	typed   []string
	what    string
}

func (s changing) screen() screen {
	return pick{head: asking(cmp.Or(s.asks, "change-which")), options: s.options, foot: s.foot, taps: s.taps,
		back: s.back, answer: s.answer, typed: s.typed, what: cmp.Or(s.what, "what.change")}.screen()
}

// changeLines makes the screen that offers the lines of one question.
func changeLines(q question) screen {
	return changing{options: q.reopening("line", "line-"), answer: typedCounts(only(q)), back: q.name}.screen()
}

// reopening gives the lines of a question as options that open them again.
func (q question) reopening(label, value string) func(*talk) []option {
	return func(c *talk) (list []option) {
		lines, v := q.lines(c), q.values(c)
		for i, l := range lines {
			list = append(list, option{
				label: c.v.Say("button."+label, "line", c.lineName(lines, l), "kind", c.v.Kind(l.face),
					"n", c.v.Number(max(v[i], 0))),
				value: value + strconv.Itoa(i),
				take: func(c *talk) {
					q.values(c)[i] = unanswered
					c.goTo(q.name)
				},
			})
		}
		return list
	}
}
