package ask

import (
	"maps"
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/texts"
)

// An option is one of several things to choose from.
type Option struct {
	Label  string
	Value  string             // by which its button names it
	Take   func(*engine.Talk) // what choosing it does; nil: what the pick does with its value
	Beside bool               // in one row with the one before
}

// A pick lets one of several things be chosen. The options are made by one
// function: the buttons of the card, a tap and typed words all read them.
type Pick struct {
	First   func(*engine.Talk) *engine.Card // a card that comes before; nil, or nil from it: none
	Head    func(*engine.Talk) *engine.Card // what stands above; nil from it: another screen asks
	Options func(*engine.Talk) []Option
	None    func(*engine.Talk) // what happens where there is no option; nil: nothing
	Take    func(*engine.Talk, string)
	words   bool                            // labels may be typed, because nothing is booked by it
	Answer  func(*engine.Talk, string) bool // other words that are typed
	free    bool
	named   bool
	Paged   bool // shown a page at a time
	Foot    func(*engine.Talk) [][]chat.Button
	Taps    map[string]func(*engine.Talk)
	typed   []string
	Back    string // the screen before, which the last button leads to unless taps say otherwise
	What    string
}

func (p Pick) Screen() engine.Screen {
	taps := map[string]func(*engine.Talk){}
	if p.Paged {
		taps["more"] = NextPage
	}
	if p.Back != "" {
		taps["back"] = engine.GoBack(p.Back)
	}
	maps.Copy(taps, p.Taps)
	s := engine.Screen{Ask: p.Card, Tap: p.Tap, Answer: p.Answer, Taps: taps, Typed: p.typed, Free: p.free,
		Named: p.named,
		What:  p.What}
	if p.words {
		s.Answer = p.word
	}
	return s
}

func (p Pick) Card(c *engine.Talk) *engine.Card {
	if p.First != nil {
		if k := p.First(c); k != nil {
			return k
		}
	}
	list, more := p.Options(c), false
	if len(list) == 0 && p.None != nil {
		p.None(c)
		return nil
	}
	k := p.Head(c)
	if k == nil {
		return nil
	}
	if p.Paged {
		var from, to int
		from, to, more = Paged(c, len(list))
		list = list[from:to]
	}
	offer(k, list)
	if more {
		k.Buttons = append(k.Buttons, c.Button("more", "more"))
	}
	if p.Foot != nil {
		k.Buttons = append(k.Buttons, p.Foot(c)...)
	}
	if p.Back != "" {
		k.Buttons = append(k.Buttons, c.Button("back", "back"))
	}
	return k
}

// offer puts a button for each option on a card.
func offer(k *engine.Card, list []Option) {
	for _, o := range list {
		b, n := chat.Button{Label: o.Label, Data: o.Value}, len(k.Buttons)
		if o.Beside && n > 0 {
			k.Buttons[n-1] = append(k.Buttons[n-1], b)
			continue
		}
		k.Buttons = append(k.Buttons, []chat.Button{b})
	}
}

// Tap takes the option that a button names, if it is still there.
func (p Pick) Tap(c *engine.Talk, choice string) bool {
	list := p.Options(c)
	i := slices.IndexFunc(list, func(o Option) bool { return o.Value == choice })
	if i < 0 {
		return false
	}
	p.chosen(c, list[i])
	return true
}

// word takes the option whose label was typed, or its yes or no, or else other words.
func (p Pick) word(c *engine.Talk, s string) bool {
	list, typed := p.Options(c), strings.Trim(texts.Fold(s), " .!")
	i := slices.IndexFunc(list, func(o Option) bool {
		label := texts.Fold(o.Label)
		head, _, _ := strings.Cut(label, ",") // No, one is enough
		both := func(word string) bool { return c.IsWord(word, typed) && c.IsWord(word, head) }
		return label == typed || both("yes") || both("no")
	})
	if i >= 0 {
		p.chosen(c, list[i])
		return true
	}
	return p.Answer != nil && p.Answer(c, s)
}

func (p Pick) chosen(c *engine.Talk, o Option) {
	if o.Take != nil {
		o.Take(c)
		return
	}
	p.Take(c, o.Value)
}

// Asking makes the head of a pick out of one sentence of the catalogue.
func Asking(id string) func(*engine.Talk) *engine.Card {
	return func(c *engine.Talk) *engine.Card { return &engine.Card{Body: []chat.Block{{Text: c.V.Say(id)}}} }
}

// Labelled makes options out of values; their labels stand in the catalogue
// under "button." and what the values are.
func Labelled[S ~string](what string, values ...S) func(*engine.Talk) []Option {
	return func(c *engine.Talk) (list []Option) {
		for _, v := range values {
			list = append(list, Option{Label: c.V.Say("button." + what + string(v)), Value: string(v)})
		}
		return list
	}
}

// pageSize is how many lines or buttons of a long list are shown at once.
const pageSize = 6

// NextPage shows the next page of the list at hand.
func NextPage(c *engine.Talk) { c.State.Draft.Page++ }

// FirstPage makes a tap that shows a list from its beginning.
func FirstPage(list string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		c.State.Draft.Page = 0
		c.GoTo(list)
	}
}

// Paged cuts the part of a list that is to be shown, from 0 to n.
func Paged(c *engine.Talk, n int) (from, to int, more bool) {
	from = min(c.State.Draft.Page*pageSize, n)
	to = min(from+pageSize, n)
	return from, to, to < n
}

// Words that may be typed where a yes or a no is asked and nothing is booked by it.
var (
	YesNo   = []string{"yes", "no"}
	NoWords = []string{"none"}
)
