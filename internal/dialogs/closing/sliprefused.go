package closing

import (
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/texts"
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
	return ask.Blind(engine.Screen{What: "what.tray",
		Ask: func(c *engine.Talk) *engine.Card {
			k, p := kept(c), ask.Target(c)
			var paid []string
			for _, notes := range c.Counted("paid") {
				paid = append(paid, c.V.Number(notes))
			}
			say, found := "slip-refused", c.V.Say("none-found")
			if p.Has(books.NoTray) {
				say = "slip-refused-unlooked"
			} else if some := lines.Together(p.Tray); some > 0 {
				found = strconv.FormatInt(some, 10)
			}
			list := texts.Either(k.Paid.Valid, c.V.Money(k.Paid.Decimal), strings.Join(paid, ", "))
			return &engine.Card{Body: []chat.Block{{Text: c.V.Say(say, "paid", list, "notes", c.V.Number(k.Refused),
				"found", found)}}, Buttons: [][]chat.Button{c.Button("look-again", "look-again"),
				c.Button("was-empty", "was-empty")}}
		},
		Taps: map[string]func(*engine.Talk){
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
