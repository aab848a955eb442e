package trouble

import (
	"regexp"
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

// sentence are words around "open" and "close" that still mean the day's work.
var sentence = regexp.MustCompile(
	`^(?:up )?(?:(?:the|our|my|this) )?(?:cash )?(?:machine|atm|till|shop|day)` +
		`(?: (?:now|please|today|tonight|up|again|for the (?:day|night)))*$`,
)

// offered answers a plain sentence like "open the machine please": the command
// is offered, and no guide for a fault is begun over an everyday word.
func offered(c *engine.Talk, cmd *engine.Command, rest string) bool {
	if cmd == nil || cmd.Offer == "" || !sentence.MatchString(strings.Trim(rest, ".!? ")) {
		return false
	}
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("offer-word", "word", c.Words(cmd)[0])}},
		Buttons: [][]chat.Button{c.Button(cmd.Offer, "o:guide:do."+cmd.Name)}})
	return true
}

// offeredTap begins a command that was offered.
func offeredTap(c *engine.Talk, name string) {
	if cmd := c.E.Named(name); cmd == nil || !cmd.Guided {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	c.CarryOut(name)
}

var severalNotes = regexp.MustCompile(`^\d+ ?[x×] ?\d+(?:[ ,]+\d+ ?[x×] ?\d+)*$`)

// foundTyped takes "20x2" in a guide in which notes come to light for those.
func foundTyped(c *engine.Talk) bool {
	w := walking(c)
	if w == nil || !slices.Contains(findingGuides, w.Guide) ||
		!severalNotes.MatchString(engine.Fold(c.In.Text)) {
		return false
	}
	c.Rest = engine.Fold(c.In.Text)
	c.Obey(c.E.Named(engine.DoFound))
	return true
}
