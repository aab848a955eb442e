package dialogs

import (
	"cmp"
	"maps"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/counts"
)

// A booking reads a draft back. Confirm books it, unless somebody recorded
// something since the card was shown; Change asks for it anew or offers its
// lines; counts typed at its card change their lines at once.
type booking struct {
	first  func(*talk) *card   // a card that comes before; nil, or nil from it: none
	read   func(*talk) []Block // what is booked; nil from it: nothing, and another screen asks
	over   func(*talk) string  // why it should rather be changed; empty for nothing
	asks   func(*talk) string  // the question below, empty for none; nil: whether it is right
	sure   string              // label of the button that books; empty: Confirm
	other  instead
	also   func(*talk) [][]Button // below
	taps   map[string]func(*talk) // of the card that comes before and of what is below
	tap    func(*talk, string) bool
	answer func(*talk, string) bool // what is typed, see [typedCounts]
	book   func(*talk)
	plan   bool // it lays down settings, which no record overtakes
	what   string
}

// instead is what can be done with a draft that is not to be booked as it is.
// The zero value is nothing but to give it up.
type instead struct {
	label, value string
	take         func(*talk)
}

func changes(take func(*talk)) instead { return instead{"change", "change", take} }
func backTo(step string) instead       { return instead{"back", "back", goBack(step)} }

func (b booking) screen() screen {
	taps := map[string]func(*talk){"confirm": b.confirm}
	if b.other.take != nil {
		taps[b.other.value] = b.other.take
	}
	maps.Copy(taps, b.taps)
	return screen{ask: b.card, answer: b.answer, taps: taps, tap: b.tap, what: cmp.Or(b.what, "what.review")}
}

// card reads the draft back. What is over a limit is offered to be changed first.
func (b booking) card(c *talk) *card {
	if k := b.before(c); k != nil {
		return k
	}
	body := b.read(c)
	if body == nil {
		return nil
	}
	asks, other := c.v.Say("right"), []Button(nil)
	if b.asks != nil {
		asks = b.asks(c)
	}
	if b.other.take != nil {
		other = c.button(b.other.label, b.other.value)
	}
	rows := [][]Button{c.button(cmp.Or(b.sure, "confirm"), "confirm"), other}
	if b.over != nil && b.over(c) != "" {
		asks, rows = b.over(c), [][]Button{other, c.button("confirm-over", "confirm")}
	}
	if b.also != nil {
		rows = append(rows, b.also(c)...)
	}
	if asks != "" {
		body = append(body, Block{Text: asks})
	}
	return &card{body: body, buttons: rows} // a row without a button is not shown
}

func (b booking) before(c *talk) *card {
	if b.first == nil {
		return nil
	}
	return b.first(c)
}

// confirm books what the card showed.
func (b booking) confirm(c *talk) {
	switch {
	case b.before(c) != nil:
	case b.plan:
		b.book(c)
	default:
		unlessOvertaken(b.book)(c)
	}
}

// unlessOvertaken books what a card showed, unless somebody was quicker.
func unlessOvertaken(book func(*talk)) func(*talk) {
	return func(c *talk) {
		if !c.overtaken() {
			book(c)
		}
	}
}

// overtaken reports whether somebody recorded something since the card was
// shown; the card is then shown again with the new figures.
func (c *talk) overtaken() bool {
	last, ok := c.lastSince(c.State.Draft.Seq)
	if !ok {
		return false
	}
	c.first(c.v.Say("overtaken", "who", c.name(last.By), "what", c.v.Say("kind."+string(last.Kind)),
		"when", c.clock(last.Recorded)))
	return true
}

// lastSince gives the newest record after one, those left aside that change
// nothing anybody relies on.
func (c *talk) lastSince(seq int64) (last books.Brief, ok bool) {
	for _, b := range slices.Backward(c.m.Recent) {
		if b.Seq <= seq {
			break
		}
		if !slices.Contains(beside, b.Kind) {
			return b, true
		}
	}
	return last, false
}

// typedCounts takes counts that are typed where they are read back. With two
// counts there a figure could belong to either, so it is asked which.
func typedCounts(which func(*talk) []question) func(*talk, string) bool {
	return func(c *talk, s string) bool {
		list := which(c)
		q := list[len(list)-1]
		if len(list) > 1 && len(counts.Parse(s, c.request(q.lines(c), 0, q)).Items) > 0 {
			c.choose("typed", s)
			c.goTo("whose")
			return true
		}
		if !q.answer(c, s) {
			return false
		}
		c.goTo(q.name)
		return true
	}
}

// only is one question, always.
func only(q question) func(*talk) []question { return func(*talk) []question { return []question{q} } }

// whose asks which of two counts that are read back a typed one belongs to.
func whose(which func(*talk) []question) screen {
	return pick{
		head: func(c *talk) *card {
			return &card{body: []Block{{Text: c.v.Say("ask.whose", "near", c.chosen("typed"))}}}
		},
		options: func(c *talk) (list []option) {
			for _, q := range which(c) {
				list = append(list, option{label: c.v.Say("button.whose-" + q.name), value: q.name,
					take: func(c *talk) { q.takeTyped(c) }})
			}
			return list
		},
		back: "review", what: "what.whose",
	}.screen()
}

// takeTyped gives a count that waited to the question it belongs to.
func (q question) takeTyped(c *talk) {
	typed := c.chosen("typed")
	c.forget("typed")
	c.goTo(q.name)
	q.answer(c, typed)
}
