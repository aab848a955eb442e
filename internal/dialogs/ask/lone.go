package ask

import (
	"slices"
	"strconv"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// dropLone forgets the figure that waits.
func (q Question) dropLone(c *engine.Talk) { c.Answers(q.Name).Lone = "" }

// Waits gives the figure, as it was typed, that waits until it is known which line it is for; empty for none.
func (q Question) Waits(c *engine.Talk) string { return c.Answers(q.Name).Lone }

// lone keeps a figure that names no line where the question does not ask for
// one line either. What waits already is asked first, so nothing typed is lost.
func (q Question) lone(c *engine.Talk, lines []Line, v []int64, res counts.Result, text string) bool {
	if !res.Bare || len(lines) < 2 || len(res.Items) > 1 {
		return false
	}
	if q.Waits(c) != "" {
		c.First(c.V.Say("lone-first"))
		return true
	}
	if q.Partial && noughtOf(res) {
		return false // none of any kind
	}
	beyond := len(res.Items) == 1 && q.beyond(c, lines, v, res.Items[0].Notes)
	if !q.asksAll(v, res) && !beyond {
		return false
	}
	text = counts.Fold(text)
	if money := loneMoney(res); len(q.loneItems(c, lines, text)) == 0 {
		if money == "" {
			return false
		}
		if q.Total == nil || SomeAnswered(v) {
			c.First(c.V.Say("problem.not-whole", "near", text, "kind", telling.LineOrder(c.Teller, lines)))
			return true
		}
		if !Payable(c, money) {
			return true
		}
	}
	c.Answers(q.Name).Lone = text
	c.State.Draft.Pending = ""
	return true
}

// beyond reports whether a number that came first is more than its line can be, and may be the whole sum.
func (q Question) beyond(c *engine.Talk, lines []Line, v []int64, n int64) bool {
	return q.Total != nil && len(lines) > 1 && !SomeAnswered(v) && q.Check != nil &&
		q.Check(c, lines[0], n).Why != ""
}

// asksAll reports whether no line is asked by itself that a figure could be for.
func (q Question) asksAll(v []int64, res counts.Result) bool {
	switch none := noughtOf(res); {
	case !slices.Contains(v, unanswered):
		return true
	case SomeAnswered(v) || none:
		return false
	}
	return q.Partial || q.None || q.Money && loneMoney(res) != ""
}

func SomeAnswered(v []int64) bool {
	return slices.ContainsFunc(v, func(n int64) bool { return n != unanswered })
}

// loneItems reads a figure once for each line and keeps the lines it fits.
func (q Question) loneItems(c *engine.Talk, lines []Line, text string) []counts.Item {
	var items []counts.Item
	for i := range lines {
		res := counts.Parse(text, Request(c, lines[i:i+1], 0, q))
		if len(res.Items) == 1 && res.Problem == nil {
			it := res.Items[0]
			it.Line = i
			items = append(items, it)
		}
	}
	return items
}

// loneCard asks which kind of note a figure is for that waits.
func (q Question) loneCard(c *engine.Talk, lines []Line, text string) *engine.Card {
	items := q.loneItems(c, lines, text)
	typed := text
	if len(items) == 0 || items[0].FromValue {
		if amount, code := counts.ParseAmount(text, c.Digits()); code == counts.OK {
			typed = c.V.Money(cashmath.AmountOf(amount))
		}
	}
	k := &engine.Card{}
	if q.Total != nil && !SomeAnswered(q.Values(c)) {
		say := "ask.lone-all"
		if len(items) > 0 && items[0].Line == 0 {
			say = "ask.lone-total"
			k.Buttons = append(k.Buttons, c.Button("lone-of", "of-0", "typed", typed, "kind", c.V.Kind(lines[0].Face)))
		}
		k.Body = []chat.Block{{Text: c.V.Say(say, "typed", typed, "kind", c.V.Kind(lines[0].Face))}}
		k.Buttons = append(k.Buttons, c.Button("together", "together"), c.Button("change", "no-kind"))
		return k
	}
	say := "ask.lone-kind"
	if lines[0].Box > 0 {
		say = "ask.lone-box"
	}
	k.Body = []chat.Block{{Text: c.V.Say(say, "typed", typed)}}
	for _, it := range items {
		k.Buttons = append(k.Buttons, []chat.Button{{Data: "of-" + strconv.Itoa(it.Line),
			Label: texts.Upper(telling.LineName(c.Teller, lines[it.Line]))}})
	}
	k.Buttons = append(k.Buttons, c.Button("change", "no-kind"))
	return k
}

// pickLone gives the figure that waits to a line.
func (q Question) pickLone(c *engine.Talk, at string) bool {
	lines := q.Lines(c)
	i, err := strconv.Atoi(at)
	for _, it := range q.loneItems(c, lines, q.Waits(c)) {
		if err == nil && it.Line == i {
			q.take(c, []counts.Item{it})
			return true
		}
	}
	return false
}

// nameLone takes the name of a kind of note or of a box that was typed: "20s".
func (q Question) nameLone(c *engine.Talk, lines []Line, waits, text string) bool {
	res := counts.Parse(text+": "+waits, Request(c, lines, 0, q))
	if len(res.Items) != 1 || res.Problem != nil || res.Bare {
		return false
	}
	q.take(c, res.Items)
	return true
}

// together takes the figure that waits for everything paid out.
func (q Question) together(c *engine.Talk) {
	amount, code := counts.ParseAmount(q.Waits(c), c.Digits())
	if q.dropLone(c); code == counts.OK && q.Total != nil {
		q.Total(c, amount)
	}
}

// take puts counts that were understood into the draft.
func (q Question) take(c *engine.Talk, items []counts.Item) {
	if len(items) == 0 {
		return
	}
	v, a := slices.Clone(q.Values(c)), c.Answers(q.Name)
	a.Lone = ""
	for _, it := range items {
		v[it.Line] = it.Notes
		if it.FromValue || len(a.Sure)+len(a.Money) > 0 {
			mark(a, it)
		}
	}
	if q.Partial {
		for j := range v {
			v[j] = max(v[j], 0)
		}
	}
	a.Counts = v
}

// mark remembers that a count was written as money, to ask it back, and nothing of the line before.
func mark(a *chat.Answers, it counts.Item) {
	delete(a.Sure, it.Line)
	delete(a.Money, it.Line)
	if it.FromValue {
		if a.Money == nil {
			a.Money = map[int]string{}
		}
		a.Money[it.Line] = it.Value
	}
}
