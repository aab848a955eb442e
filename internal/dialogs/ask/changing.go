package ask

import (
	"cmp"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// A changing offers what was answered to be answered anew, line by line.
// Whatever is typed at its card is taken as where it is read back.
type Changing struct {
	Asks    string                          // catalogue name; empty: which line to change
	Options func(*engine.Talk) []Option     // see [Question.Reopening]
	Answer  func(*engine.Talk, string) bool // see [TypedCounts]
	Foot    func(*engine.Talk) [][]chat.Button
	Taps    map[string]func(*engine.Talk)
	Back    string
	typed   []string
	what    string
}

func (s Changing) Screen() engine.Screen {
	return Pick{Head: Asking(cmp.Or(s.Asks, "change-which")), Options: s.Options, Foot: s.Foot, Taps: s.Taps,
		Back: s.Back, Answer: s.Answer, typed: s.typed, What: cmp.Or(s.what, "what.change")}.Screen()
}

// ChangeLines makes the screen that offers the lines of one question.
func ChangeLines(q Question) engine.Screen {
	return Changing{Options: q.Reopening("line", "line-"), Answer: TypedCounts(Only(q)), Back: q.Name}.Screen()
}

// Reopening gives the lines of a question as options that open them again.
func (q Question) Reopening(label, value string) func(*engine.Talk) []Option {
	return func(c *engine.Talk) (list []Option) {
		lines, v := q.Lines(c), q.Values(c)
		for i, l := range lines {
			list = append(list, Option{
				Label: c.V.Say("button."+label, "line", telling.LineName(c.Teller, l), "kind", c.V.Kind(l.Face),
					"n", c.V.Number(max(v[i], 0))),
				Value: value + strconv.Itoa(i),
				Take: func(c *engine.Talk) {
					q.Values(c)[i] = unanswered
					c.GoTo(q.Name)
				},
			})
		}
		return list
	}
}

// CountStays is said of a dialog on the way of which a count is recorded.
func CountStays(c *engine.Talk) string {
	p := Target(c)
	if p == nil || c.State.Draft.Period == 0 {
		return engine.NothingBooked(c)
	}
	if p.Status == books.Closed {
		return c.V.Say("stopped-closed")
	}
	if p.Status == books.Waiting && !c.E.Second(c.State.Flow) {
		return c.V.Say(texts.Either(len(p.Slips) > 0, "stopped-slips", "stopped-counted"))
	}
	return engine.NothingBooked(c)
}
