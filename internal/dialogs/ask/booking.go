package ask

import (
	"cmp"
	"maps"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// A booking reads a draft back. Confirm books it, unless somebody recorded something since the card was
// shown; Change asks for it anew or offers its lines; counts typed at its card change their lines at once.
type Booking struct {
	First  func(*engine.Talk) *engine.Card // a card that comes before; nil, or nil from it: none
	Read   func(*engine.Talk) []chat.Block // what is booked; nil from it: nothing, and another screen asks
	Over   func(*engine.Talk) string       // why it should rather be changed; empty for nothing
	Asks   func(*engine.Talk) string       // the question below, empty for none; nil: whether it is right
	Sure   string                          // label of the button that books; empty: Confirm
	Other  Instead
	Also   func(*engine.Talk) [][]chat.Button // below
	Taps   map[string]func(*engine.Talk)      // of the card that comes before and of what is below
	Tap    func(*engine.Talk, string) bool
	Answer func(*engine.Talk, string) bool // what is typed, see [TypedCounts]
	Book   func(*engine.Talk)
	Plan   bool // it lays down settings, which no record overtakes
	What   string
	Seldom func(*engine.Talk) [][]chat.Button // behind More
}

// Instead is what can be done with a draft that is not to be booked as it is.
// The zero value is nothing but to give it up.
type Instead struct {
	Label, Value string
	Take         func(*engine.Talk)
}

func Changes(take func(*engine.Talk)) Instead { return Instead{"change", "change", take} }
func BackTo(step string) Instead              { return Instead{"back", "back", engine.GoBack(step)} }

func (b Booking) Screen() engine.Screen {
	taps := map[string]func(*engine.Talk){"confirm": b.Confirm}
	if b.Other.Take != nil {
		taps[b.Other.Value] = b.Other.Take
	}
	maps.Copy(taps, b.Taps)
	answer := b.Answer
	if answer != nil && b.First == nil { // what is asked there is about itself
		answer = func(c *engine.Talk, s string) bool { return forNext(c, s) || b.Answer(c, s) }
	}
	return engine.Screen{Ask: b.Card, Answer: answer, Taps: taps, Tap: b.Tap, Seldom: b.Seldom,
		What: cmp.Or(b.What, "what.review")}
}

// Card reads the draft back. What is over a limit is offered to be changed first.
func (b Booking) Card(c *engine.Talk) *engine.Card {
	if k := b.before(c); k != nil {
		return k
	}
	body := b.Read(c)
	if body == nil {
		return nil
	}
	asks, other := c.V.Say("right"), []chat.Button(nil)
	if b.Asks != nil {
		asks = b.Asks(c)
	}
	if b.Other.Take != nil {
		other = c.Button(b.Other.Label, b.Other.Value)
	}
	rows := [][]chat.Button{c.Button(cmp.Or(b.Sure, "confirm"), "confirm"), other}
	if b.Over != nil && b.Over(c) != "" {
		asks, rows = b.Over(c), [][]chat.Button{other, c.Button("confirm-over", "confirm")}
	}
	if b.Also != nil {
		rows = append(rows, b.Also(c)...)
	}
	if asks != "" {
		body = append(body, chat.Block{Text: asks})
	}
	return &engine.Card{Body: body, Buttons: rows} // a row without a button is not shown
}

func (b Booking) before(c *engine.Talk) *engine.Card {
	if b.First == nil {
		return nil
	}
	return b.First(c)
}

// Confirm books what the card showed.
func (b Booking) Confirm(c *engine.Talk) {
	if b.before(c) != nil {
		return
	}
	if b.Plan || !c.Overtaken() {
		b.Book(c)
	}
}

// forNext keeps figures for the dialog that waits for the card that is shown, like the slip, which
// is in somebody's hand by then; words that put the card right are for that one.
func forNext(c *engine.Talk, s string) bool {
	then, p := c.State.Draft.Then, Target(c)
	slip := p != nil && p.Status == books.Waiting
	if then == nil || then.Rest != "" && !slip {
		return false
	}
	next := c.E.Flows[then.Command]
	res := counts.Parse(telling.SlipSays(c.Teller, s), Request(c, KindLines(c), 0, Question{Money: true}))
	if next == nil || len(next.Asks) == 0 || res.Amends || len(res.Items) == 0 && res.Total == "" {
		return false
	}
	then.Rest = s
	c.First(c.V.Say(texts.Either(slip, "for-slip", "for-next"), "typed", s, "what", c.V.Say("flow."+next.Title)))
	return true
}

// UnlessOvertaken books what a card showed, unless somebody was quicker.
func UnlessOvertaken(book func(*engine.Talk)) func(*engine.Talk) {
	return func(c *engine.Talk) {
		if !c.Overtaken() {
			book(c)
		}
	}
}

// TypedCounts takes counts that are typed where they are read back. With two
// counts there a figure could belong to either, so it is asked which.
func TypedCounts(which func(*engine.Talk) []Question) func(*engine.Talk, string) bool {
	return func(c *engine.Talk, s string) bool {
		list := which(c)
		q := list[len(list)-1]
		if len(list) > 1 && len(counts.Parse(s, Request(c, q.Lines(c), 0, q)).Items) > 0 {
			c.State.Draft.Typed = s
			c.GoTo("whose")
			return true
		}
		if !q.Answer(c, s) {
			return false
		}
		c.GoTo(q.Name)
		return true
	}
}

// Only is one question, always.
func Only(q Question) func(*engine.Talk) []Question {
	return func(*engine.Talk) []Question { return []Question{q} }
}

// Whose asks which of two counts that are read back a typed one belongs to.
func Whose(which func(*engine.Talk) []Question, back string) Pick {
	return Pick{
		Head: func(c *engine.Talk) *engine.Card {
			return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.whose", "near", c.State.Draft.Typed)}}}
		},
		Options: func(c *engine.Talk) (list []Option) {
			for _, q := range which(c) {
				list = append(list, Option{Label: c.V.Say("button.whose-" + q.Name), Value: "whose-" + q.Name,
					Take: func(c *engine.Talk) { q.takeTyped(c) }})
			}
			return list
		},
		Back: back, What: "what.whose",
	}
}

// takeTyped gives a count that waited to the question it belongs to.
func (q Question) takeTyped(c *engine.Talk) {
	typed := c.State.Draft.Typed
	c.State.Draft.Typed = ""
	c.GoTo(q.Name)
	q.Answer(c, typed)
}
