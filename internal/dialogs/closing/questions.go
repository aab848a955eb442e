package closing

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// takesRefused lets a slip say what was cancelled, and how many notes were refused, behind what was paid out.
// Where others were found the box is asked about, since a note that nobody counted is missing later.
func takesRefused(answer func(*engine.Talk, string) bool) func(*engine.Talk, string) bool {
	return func(c *engine.Talk, text string) bool {
		text, back := lines.SlipCancelled(text)
		rest, refused := lines.SlipRefused(text)
		if p := ask.Target(c); refused != 0 && p != nil && p.Status == books.Waiting {
			if kept(c).Refused, text = 0, rest; lines.Together(p.Tray) != refused {
				kept(c).Refused = refused
			}
		}
		took := answer(c, text)
		if took && back != "" && !backQuestion.Answer(c, back) {
			c.First(telling.NotTaken(c.Teller, back))
		}
		return took
	}
}

// refusedScreen asks about the box for refused notes before the result is shown.
func (n counting) refusedScreen() engine.Screen {
	ask1 := func(c *engine.Talk) *engine.Card {
		k := kept(c)
		said := telling.RefusedSlip(c.Teller, ask.Target(c), c.Counted("paid"), k.Paid, k.Refused)
		return &engine.Card{Body: []chat.Block{{Text: said}},
			Buttons: [][]chat.Button{c.Button("look-again", "look-again"), c.Button("was-empty", "was-empty")}}
	}
	return ask.Blind(engine.Screen{What: "what.tray", Ask: ask1, Taps: map[string]func(*engine.Talk){
		"look-again": func(c *engine.Talk) {
			known := kept(c).NotBlind
			kept(c).Refused = 0
			countTray(c)
			kept(c).NotBlind = known // nothing was shown yet
		},
		"was-empty": func(c *engine.Talk) {
			kept(c).Refused = 0
			c.GoTo(n.afterPaid(c))
		},
	}})
}

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
