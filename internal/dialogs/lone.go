package dialogs

import (
	"slices"
	"strconv"

	"shopfloat/internal/counts"
)

// loneKey names the choice that keeps a figure, as it was typed, until it is
// known which kind of note it is for.
func (q question) loneKey() string { return "lone." + q.name }

// dropLone forgets the figure that waits.
func (q question) dropLone(c *talk) { delete(c.State.Draft.Choices, q.loneKey()) }

// lone keeps a figure that names no line where the question does not ask for
// one line either. What waits already is asked first, so nothing typed is lost.
func (q question) lone(c *talk, lines []line, v []int64, res counts.Result, text string) bool {
	if !res.Bare || len(lines) < 2 || len(res.Items) > 1 {
		return false
	}
	if c.chosen(q.loneKey()) != "" {
		c.first(c.v.Say("lone-first"))
		return true
	}
	if !q.asksAll(v, res) {
		return false
	}
	text = counts.Fold(text)
	if money := loneMoney(res); len(q.loneItems(c, lines, text)) == 0 {
		switch {
		case money == "":
			return false
		case q.total == nil || someAnswered(v):
			c.first(c.v.Say("problem.not-whole", "near", text, "kind", c.order(lines)))
			return true
		case !c.payable(money):
			return true
		}
	}
	c.choose(q.loneKey(), text)
	delete(c.State.Draft.Choices, "pending")
	return true
}

// asksAll reports whether no line is asked by itself that a figure could be for.
func (q question) asksAll(v []int64, res counts.Result) bool {
	none := len(res.Items) == 1 && res.Items[0].Notes == 0
	switch {
	case open(v) < 0:
		return true
	case someAnswered(v) || none:
		return false
	}
	return q.partial || q.none || q.money && loneMoney(res) != ""
}

// loneMoney gives a figure that was written as an amount of money.
func loneMoney(res counts.Result) string {
	switch {
	case len(res.Items) == 1 && res.Items[0].FromValue:
		return res.Items[0].Value
	case res.Problem != nil && res.Problem.Code == counts.NotWhole:
		return res.Problem.Value
	}
	return ""
}

func someAnswered(v []int64) bool {
	return slices.ContainsFunc(v, func(n int64) bool { return n != unanswered })
}

// loneItems reads a figure once for each line and keeps the lines it fits.
func (q question) loneItems(c *talk, lines []line, text string) []counts.Item {
	var items []counts.Item
	for i := range lines {
		res := counts.Parse(text, c.request(lines[i:i+1], 0, q))
		if len(res.Items) == 1 && res.Problem == nil {
			it := res.Items[0]
			it.Line = i
			items = append(items, it)
		}
	}
	return items
}

// loneCard asks which kind of note a figure is for; nil when none waits.
func (q question) loneCard(c *talk, lines []line) *card {
	text := c.chosen(q.loneKey())
	if text == "" {
		return nil
	}
	items := q.loneItems(c, lines, text)
	typed := text
	if len(items) == 0 || items[0].FromValue {
		if amount, code := counts.ParseAmount(text, c.minorDigits()); code == counts.OK {
			typed = c.v.Money(amountOf(amount))
		}
	}
	k := &card{}
	if q.total != nil && !someAnswered(q.values(c)) {
		say := "ask.lone-all"
		if len(items) > 0 && items[0].Line == 0 {
			say = "ask.lone-total"
			k.buttons = append(k.buttons, c.button("lone-of", "of-0", "typed", typed, "kind", c.v.Kind(lines[0].face)))
		}
		k.body = []Block{{Text: c.v.Say(say, "typed", typed, "kind", c.v.Kind(lines[0].face))}}
		k.buttons = append(k.buttons, c.button("together", "together"), c.button("change", "no-kind"))
		return k
	}
	say := "ask.lone-kind"
	if lines[0].box > 0 {
		say = "ask.lone-box"
	}
	k.body = []Block{{Text: c.v.Say(say, "typed", typed)}}
	for _, it := range items {
		k.buttons = append(k.buttons, []Button{{upper(c.lineName(lines, lines[it.Line])), "of-" + strconv.Itoa(it.Line)}})
	}
	k.buttons = append(k.buttons, c.button("change", "no-kind"))
	return k
}

// pickLone gives the figure that waits to a line.
func (q question) pickLone(c *talk, at string) bool {
	lines := q.lines(c)
	i, err := strconv.Atoi(at)
	for _, it := range q.loneItems(c, lines, c.chosen(q.loneKey())) {
		if err == nil && it.Line == i {
			q.take(c, []counts.Item{it})
			return true
		}
	}
	return false
}

// nameLone takes the name of a kind of note or of a box that was typed: "20s".
func (q question) nameLone(c *talk, lines []line, waits, text string) bool {
	res := counts.Parse(text+": "+waits, c.request(lines, 0, q))
	if len(res.Items) != 1 || res.Problem != nil || res.Bare {
		return false
	}
	q.take(c, res.Items)
	return true
}

// together takes the figure that waits for everything paid out.
func (q question) together(c *talk) {
	amount, code := counts.ParseAmount(c.chosen(q.loneKey()), c.minorDigits())
	if q.dropLone(c); code == counts.OK && q.total != nil {
		q.total(c, amount)
	}
}

// take puts counts that were understood into the draft.
func (q question) take(c *talk, items []counts.Item) {
	if len(items) == 0 {
		return
	}
	q.dropLone(c)
	v := slices.Clone(q.values(c))
	for _, it := range items {
		v[it.Line] = it.Notes
		c.mark(q.name, it)
	}
	if q.partial {
		for j := range v {
			v[j] = max(v[j], 0)
		}
	}
	c.put(q.name, v)
}

// mark remembers that a count was written as money, to ask it back, and
// forgets what was said of the line before.
func (c *talk) mark(name string, it counts.Item) {
	key := name + "." + strconv.Itoa(it.Line)
	delete(c.State.Draft.Choices, "ok."+key)
	delete(c.State.Draft.Choices, "value."+key)
	if it.FromValue {
		c.choose("value."+key, it.Value)
	}
}
