package reminding

import (
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
)

// feastPick lists the public holidays of the next twelve months; a tap turns how one of them is kept.
var feastPick = ask.Pick{
	Head: func(c *engine.Talk) *engine.Card {
		return &engine.Card{Body: []chat.Block{{Text: c.V.Say("hours.feasts")}}}
	},
	Options: func(c *engine.Talk) (list []ask.Option) {
		s := typedPlan(c).Over(c.F.Shop.Settings, c.Today())
		for _, h := range reminders.Coming(&s, c.Today()) {
			choice := shop.HolidayChoice{Name: h.Name, Trades: !reminders.Keeps(&s, h)}
			list = append(list, ask.Option{Value: "feast-" + rota.Compact(h.Date),
				Label: c.V.Day(h.Date.Time()) + " " + rota.Feast(c.Teller, choice),
				Take: func(c *engine.Talk) {
					choice.Trades = !choice.Trades
					typedPlan(c).Feasts = append(typedPlan(c).Feasts, choice)
				}})
		}
		return list
	},
	None:  func(c *engine.Talk) { c.First(c.V.Say("hours.holidays-unknown")); c.GoTo("ask") },
	Paged: true, Back: "ask", What: "what.hours",
}

// askDoubt asks an owner, once, how a holiday is kept that may not be one.
func askDoubt(c *engine.Talk, n reminders.Name) {
	if reminders.Doubted(c.F.Shop, reminders.DoubtedBy(n.Date)) != "" && shopwide(c) {
		c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.Owners), rota.Doubt(c.Teller, n))
	}
}

// tapFeast takes the answer.
func tapFeast(c *engine.Talk, arg string) {
	how, day, _ := strings.Cut(arg, ".")
	date, ok := rota.CompactDate(day)
	name := ""
	if ok {
		name = holidays.At(c.F.Shop.Place(), date).Name
	}
	switch {
	case name == "" || how != "closed" && how != "open" && how != "hours":
		c.UnknownTap()
	case how == "hours":
		c.First(c.V.Say("feast.hours", "what", strings.ToLower(name)))
		c.CarryOut(engine.DoHours)
	default:
		next := c.F.Shop.Settings
		next.Plan = reminders.Settle(c.F.Shop, date, how == "open", c.F.Person.ID, c.In.At)
		c.Settings = &next
		c.RewriteAll(rota.DueKey(c.Teller, reminders.AskedBy(date)), chat.Lines(c.V.Say("feast."+how, "day",
			c.V.Day(date.Time()), "what", name, "who", c.F.Person.Name)))
	}
}
