package load

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/counsel"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// askFull asks how full the machine should be.
func askFull(c *engine.Talk) *engine.Card {
	is := c.V.Say("full", "level", counsel.FullName(c.Teller, c.F.Shop.Load))
	return &engine.Card{Body: []chat.Block{chat.Lines(is, c.V.Say("full.how"))}}
}

func levelOptions(c *engine.Talk) []ask.Option {
	l := c.F.Shop.Load
	whole := c.V.Say(texts.Either(l.Whole, "button.full-single", "button.full-bundles"))
	always := c.V.Say(texts.Either(l.Always, "button.full-hours", "button.full-always"))
	return append(ask.Labelled("full-", shop.RarelyEmpty, shop.Balanced, shop.LittleCash)(c),
		ask.Option{Label: whole, Value: "bundles"}, ask.Option{Label: always, Value: "always"})
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
		return counsel.None(c.Teller, err)
	}
	return []chat.Block{{Text: c.V.Say("full.costs", "missed", c.V.Money(l.Missed), "idle", c.V.Money(l.Idle),
		"share", counsel.Share(p))}}
}

// answerFull reads two costs a note: of one that is missed, of one left over.
func answerFull(c *engine.Talk, s string) bool {
	l := shop.Costs(s)
	if l == nil || !c.F.Person.Role.Manages() {
		return false
	}
	draft(c).Costs = l
	return true
}

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
		now = counsel.FullName(c.Teller, l)
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

// losesCosts: costs were typed and are not confirmed yet. All else that is typed is answered at once.
func losesCosts(c *engine.Talk) bool { return draft(c).Costs != nil }

func bookCosts(c *engine.Talk) {
	l := draft(c).Costs
	if l == nil {
		return
	}
	l.Whole, l.Always = c.F.Shop.Load.Whole, c.F.Shop.Load.Always
	layDownLoad(c, *l, counsel.FullName(c.Teller, *l))
}

// layDownLoad writes how full to load into the shop's settings and goes back to the advice.
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
