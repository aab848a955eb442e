package load

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// askFull asks how full the machine should be.
func askFull(c *engine.Talk) *engine.Card {
	is := c.V.Say("full", "level", levelName(c, c.F.Shop.Load))
	return &engine.Card{Body: []chat.Block{chat.Lines(is, c.V.Say("full.how"))}}
}

func levelOptions(c *engine.Talk) []ask.Option {
	l := c.F.Shop.Load
	whole := c.V.Say(texts.Either(l.Whole, "button.full-single", "button.full-bundles"))
	always := c.V.Say(texts.Either(l.Always, "button.full-hours", "button.full-always"))
	return append(ask.Labelled("full-", shop.RarelyEmpty, shop.Balanced, shop.LittleCash)(c),
		ask.Option{Label: whole, Value: "bundles"}, ask.Option{Label: always, Value: "always"})
}

// levelName names the level in force; an empty one is balanced.
func levelName(c *engine.Talk, l shop.Load) string {
	if l.Level == "" {
		l.Level = shop.Balanced
	}
	p, err := advice.Share(l)
	if err != nil {
		return string(l.Level) // settings are checked before they are in force
	}
	return c.V.Say("full.is-"+string(l.Level), "share", telling.Share(p))
}

// costBooking reads back two costs that were typed in place of a level.
var costBooking = ask.Booking{Read: readCosts, Book: bookCosts, Plan: true,
	Other: ask.Instead{Label: "back", Value: "back", Take: backFromFull}}

func readCosts(c *engine.Talk) []chat.Block {
	l := draft(c).Costs
	if l == nil {
		return nil
	}
	p, err := advice.Share(*l)
	if err != nil {
		return noAdvice(c, err).Body
	}
	return []chat.Block{{Text: c.V.Say("full.costs", "missed", c.V.Money(l.Missed), "idle", c.V.Money(l.Idle),
		"share", telling.Share(p))}}
}

// answerFull reads two costs a note: of one that is missed, of one left over.
func answerFull(c *engine.Talk, s string) bool {
	l := costs(s)
	if l == nil || !c.F.Person.Role.Manages() {
		return false
	}
	draft(c).Costs = l
	return true
}

// costs finds two amounts above nothing in a text: costs 1.20 0.10; nil where
// they are not there.
func costs(s string) *shop.Load {
	var found []decimal.Decimal
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ';' || r == '/' }) {
		word = strings.ReplaceAll(strings.Trim(word, "€$£,"), ",", ".")
		if d, err := decimal.NewFromString(word); err == nil && len(word) <= maxCost {
			found = append(found, d)
		}
	}
	if len(found) != 2 || !found[0].IsPositive() || !found[1].IsPositive() {
		return nil
	}
	return &shop.Load{Level: shop.ByCosts, Missed: found[0], Idle: found[1]}
}

// maxCost is how many signs a cost may have.
const maxCost = 9

// takeFull lays down what was chosen.
func takeFull(c *engine.Talk, choice string) {
	l := c.F.Shop.Load
	now := ""
	switch choice {
	case "bundles":
		l.Whole = !l.Whole
		now = c.V.Say(texts.Either(l.Whole, "full.bundles", "full.single"))
	case "always":
		l.Always = !l.Always
		now = c.V.Say(texts.Either(l.Always, "full.always", "full.hours"))
	default:
		l.Level, l.Missed, l.Idle = shop.LoadLevel(choice), decimal.Decimal{}, decimal.Decimal{}
		now = levelName(c, l)
	}
	layDownLoad(c, l, now)
}

// backFromFull leaves costs that were typed and not confirmed behind.
func backFromFull(c *engine.Talk) {
	if draft(c).Costs == nil {
		c.GoTo("advice")
	}
	draft(c).Costs = nil
}

// losesCosts: costs were typed and are not confirmed yet. All else that is typed
// is answered at once.
func losesCosts(c *engine.Talk) bool { return draft(c).Costs != nil }

func bookCosts(c *engine.Talk) {
	l := draft(c).Costs
	if l == nil {
		return
	}
	l.Whole, l.Always = c.F.Shop.Load.Whole, c.F.Shop.Load.Always
	layDownLoad(c, *l, levelName(c, *l))
}

// layDownLoad writes how full to load into the shop's settings and goes back to
// the advice, which follows it from now on.
func layDownLoad(c *engine.Talk, l shop.Load, what string) {
	draft(c).Costs = nil
	c.GoTo("advice")
	if !c.F.Person.Role.Manages() {
		return
	}
	s := c.F.Shop.Settings
	s.Load = l
	c.Settings = &s
	now := *c.F.Shop
	now.Settings = s
	c.F.Shop = &now
	c.First(c.V.Say("full.saved", "what", what))
	trade.TellSettings(c, c.V.Say("label.load"))
}
