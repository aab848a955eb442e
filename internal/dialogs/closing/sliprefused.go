package closing

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// takesRefused lets a slip say how many notes were refused behind what was paid out. Where
// others were found the box is asked about, since a note that nobody counted is missing later.
func takesRefused(answer func(*engine.Talk, string) bool) func(*engine.Talk, string) bool {
	return func(c *engine.Talk, text string) bool {
		rest, refused := lines.SlipRefused(text)
		p := ask.Target(c)
		if refused == 0 || p == nil || p.Status != books.Waiting {
			return answer(c, text)
		}
		if kept(c).Refused = 0; lines.Together(p.Tray) != refused {
			kept(c).Refused = refused
		}
		return answer(c, rest)
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
