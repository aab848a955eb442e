package dialogs

import (
	"regexp"
	"slices"
	"strings"
)

// sentence are words around "open" and "close" that still mean the day's work.
var sentence = regexp.MustCompile(`^(?:up )?(?:(?:the|our|my|this) )?(?:cash )?(?:machine|atm|till|shop|day)` +
	`(?: (?:now|please|today|tonight|up|again|for the (?:day|night)))*$`)

// offered answers a plain sentence like "open the machine please": the command
// is offered, and no guide for a fault is begun over an everyday word.
func (c *talk) offered(cmd *command, rest string) bool {
	if cmd == nil || cmd.offer == "" || !sentence.MatchString(strings.Trim(rest, ".!? ")) {
		return false
	}
	c.send(Reply{Body: []Block{{Text: c.v.Say("offer-word", "word", c.words(cmd)[0])}},
		Buttons: [][]Button{c.button(cmd.offer, "o:guide:do."+cmd.name)}})
	return true
}

// offeredTap begins a command that was offered.
func (c *talk) offeredTap(name string) {
	if cmd := c.e.named(name); cmd == nil || !cmd.guided {
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	c.carryOut(name)
}

var severalNotes = regexp.MustCompile(`^\d+ ?[x×] ?\d+(?:[ ,]+\d+ ?[x×] ?\d+)*$`)

// foundTyped takes "20x2" in a guide in which notes come to light for those.
func (c *talk) foundTyped() bool {
	w := c.walking()
	if w == nil || !slices.Contains(findingGuides, w.Guide) || !severalNotes.MatchString(fold(c.in.Text)) {
		return false
	}
	c.rest = fold(c.in.Text)
	c.obey(c.e.named(doFound))
	return true
}

// checkedTyped answers the words of a button that says how notes were checked:
// the card is shown again, since one tap books and typed words do not.
func (c *talk) checkedTyped() bool {
	low := fold(strings.Trim(c.in.Text, ".! "))
	if !slices.ContainsFunc(checkedHow, func(how string) bool { return low == fold(c.v.Say("button.checked-"+how)) }) {
		return false
	}
	for _, p := range slices.Backward(c.m.Periods) {
		if slices.Contains(p.Ticks, "checked") {
			r := c.howChecked(p)
			r.Retire = ticksKey(p.No)
			c.post(r)
			return true
		}
	}
	c.say(c.v.Say("unknown"))
	return true
}
