package dialogs

import (
	"maps"
	"slices"
	"strconv"
)

// An option is one of several things to choose from.
type option struct {
	label  string
	value  string      // by which its button names it
	take   func(*talk) // what choosing it does; nil: what the pick does with its value
	beside bool        // in one row with the one before
}

// A pick lets one of several things be chosen. The options are made by one
// function: the buttons of the card, a tap and typed words all read them.
type pick struct {
	first   func(*talk) *card // a card that comes before; nil, or nil from it: none
	head    func(*talk) *card // what stands above; nil from it: another screen asks
	options func(*talk) []option
	none    func(*talk) // what happens where there is no option; nil: nothing
	take    func(*talk, string)
	words   bool                     // labels may be typed, because nothing is booked by it
	answer  func(*talk, string) bool // other words that are typed
	free    bool
	paged   bool // shown a page at a time
	foot    func(*talk) [][]Button
	taps    map[string]func(*talk)
	typed   []string
	back    string // the screen before, which the last button leads to unless taps say otherwise
	what    string
}

func (p pick) screen() screen {
	taps := map[string]func(*talk){}
	if p.paged {
		taps["more"] = nextPage
	}
	if p.back != "" {
		taps["back"] = goBack(p.back)
	}
	maps.Copy(taps, p.taps)
	s := screen{ask: p.card, tap: p.tap, answer: p.answer, taps: taps, typed: p.typed, free: p.free,
		what: p.what}
	if p.words {
		s.answer = p.word
	}
	return s
}

func (p pick) card(c *talk) *card {
	if p.first != nil {
		if k := p.first(c); k != nil {
			return k
		}
	}
	list, more := p.options(c), false
	if len(list) == 0 && p.none != nil {
		p.none(c)
		return nil
	}
	k := p.head(c)
	if k == nil {
		return nil
	}
	if p.paged {
		var from, to int
		from, to, more = c.paged(len(list))
		list = list[from:to]
	}
	k.offer(list)
	if more {
		k.buttons = append(k.buttons, c.button("more", "more"))
	}
	if p.foot != nil {
		k.buttons = append(k.buttons, p.foot(c)...)
	}
	if p.back != "" {
		k.buttons = append(k.buttons, c.button("back", "back"))
	}
	return k
}

// offer puts a button for each option on a card.
func (k *card) offer(list []option) {
	for _, o := range list {
		b, n := Button{o.label, o.value}, len(k.buttons)
		if o.beside && n > 0 {
			k.buttons[n-1] = append(k.buttons[n-1], b)
			continue
		}
		k.buttons = append(k.buttons, []Button{b})
	}
}

// tap takes the option that a button names, if it is still there.
func (p pick) tap(c *talk, choice string) bool {
	list := p.options(c)
	i := slices.IndexFunc(list, func(o option) bool { return o.value == choice })
	if i < 0 {
		return false
	}
	p.chosen(c, list[i])
	return true
}

// word takes the option whose label was typed, or else other words.
func (p pick) word(c *talk, s string) bool {
	list := p.options(c)
	if i := slices.IndexFunc(list, func(o option) bool { return fold(o.label) == fold(s) }); i >= 0 {
		p.chosen(c, list[i])
		return true
	}
	return p.answer != nil && p.answer(c, s)
}

func (p pick) chosen(c *talk, o option) {
	if o.take != nil {
		o.take(c)
		return
	}
	p.take(c, o.value)
}

// asking makes the head of a pick out of one sentence of the catalogue.
func asking(id string) func(*talk) *card {
	return func(c *talk) *card { return &card{body: []Block{{Text: c.v.Say(id)}}} }
}

// labelled makes options out of values; their labels stand in the catalogue
// under "button." and what the values are.
func labelled[S ~string](what string, values ...S) func(*talk) []option {
	return func(c *talk) (list []option) {
		for _, v := range values {
			list = append(list, option{label: c.v.Say("button." + what + string(v)), value: string(v)})
		}
		return list
	}
}

// pageSize is how many lines or buttons of a long list are shown at once.
const pageSize = 6

func (c *talk) page() int {
	n, _ := strconv.Atoi(c.chosen("page"))
	return n
}

func nextPage(c *talk) { c.choose("page", strconv.Itoa(c.page()+1)) }

// paged cuts the part of a list that is to be shown, from 0 to n.
func (c *talk) paged(n int) (from, to int, more bool) {
	from = min(c.page()*pageSize, n)
	to = min(from+pageSize, n)
	return from, to, to < n
}
