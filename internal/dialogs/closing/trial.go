package closing

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// A test payout that was ticked and never recorded left its notes nowhere: the
// closing asks where they are, before anything is counted.

func untoldWhere() engine.Screen {
	return ask.Blind(ask.Pick{
		Head: func(c *engine.Talk) *engine.Card {
			return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.untold",
				"trial", telling.TrialWord(ask.Target(c)))}}}
		},
		Options: ask.Labelled("where-", ask.TestPlaces...), What: "what.where",
		Take: func(c *engine.Talk, where string) {
			kept(c).Trial = books.Place(where)
			c.GoTo("trial-counted")
		},
		Taps: map[string]func(*engine.Talk){"untried": func(c *engine.Talk) { c.GoTo("left") }},
		Foot: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("untried", "untried")} },
	}.Screen())
}

func untoldCounted() engine.Screen {
	s := ask.Blind(ask.TestCounted(func(c *engine.Talk, counted bool) {
		p := ask.Target(c)
		if p.Untold && !recorded(c, lines.TrialOf(p, books.Trial{Where: kept(c).Trial, Counted: counted})) {
			return
		}
		c.First(c.V.Say("tested", "when", c.Clock(c.When())))
		c.GoTo("left")
	}))
	s.Typed, s.Title = nil, "test"
	return s
}
