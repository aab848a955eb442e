package reminding

import (
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// feastPick lists the public holidays of the next twelve months; a tap turns how one of
// them is kept.
var feastPick = ask.Pick{
	Head: func(c *engine.Talk) *engine.Card {
		return &engine.Card{Body: []chat.Block{{Text: c.V.Say("hours.feasts")}}}
	},
	Options: func(c *engine.Talk) (list []ask.Option) {
		s := typedPlan(c).over(c.F.Shop.Settings)
		for _, h := range reminders.Coming(&s, c.Today()) {
			choice := shop.HolidayChoice{Name: h.Name, Trades: !reminders.Keeps(&s, h)}
			list = append(list, ask.Option{Value: "feast-" + compact(h.Date),
				Label: c.V.Day(h.Date.Time()) + " " + telling.Feast(c.Teller, choice),
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

// feastIn reads how a single public holiday is kept: "christmas day closed", "good friday
// 9-13", "epiphany open".
func feastIn(c *engine.Talk, line string) (choice shop.HolidayChoice, ok bool) {
	rest := ""
	for _, h := range reminders.Coming(&c.F.Shop.Settings, c.Today()) {
		after, is := strings.CutPrefix(line, engine.Fold(h.Name)+" ")
		if is && len(h.Name) > len(choice.Name) {
			choice.Name, rest = h.Name, strings.TrimSpace(after)
		}
	}
	switch hours, why := telling.Reader(c.Teller).Hours(rest); {
	case choice.Name == "":
		return choice, false
	case c.IsWord("closed", rest):
		return choice, true
	case c.IsWord("open-day", rest):
		choice.Trades = true
	case why != when.OK:
		return choice, false
	default:
		choice.Trades, choice.Hours = true, &hours
	}
	return choice, true
}

// askDoubt asks an owner, once, how a holiday is kept that may not be one.
func askDoubt(c *engine.Talk, n reminders.Name) {
	date := reminders.DoubtedBy(n.Date)
	name := reminders.Doubted(c.F.Shop, date)
	if name == "" || !shopwide(c) {
		return
	}
	ref := "." + compact(date)
	c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.Owners), chat.Reply{
		Body: []chat.Block{chat.Lines(c.V.Say("due.doubt", "day", c.V.Day(date.Time()), "what", name),
			c.V.Say("due.doubt-else"))},
		Buttons: [][]chat.Button{c.Button("feast-closed", "o:feast:closed"+ref),
			c.Button("feast-open", "o:feast:open"+ref), c.Button("feast-hours", "o:feast:hours"+ref)},
		Key: dueKey(c, n), Silent: true})
}

// tapFeast takes the answer.
func tapFeast(c *engine.Talk, arg string) {
	how, day, _ := strings.Cut(arg, ".")
	date, ok := compactDate(day)
	name := ""
	if ok {
		name = holidays.At(c.F.Shop.Place(), date).Name
	}
	switch {
	case name == "" || how != "closed" && how != "open" && how != "hours":
		c.UnknownTap()
	case how == "hours":
		c.Say(c.V.Say("feast.hours", "what", strings.ToLower(name)))
	default:
		next := c.F.Shop.Settings
		next.Plan = reminders.Settle(c.F.Shop, date, how == "open", c.F.Person.ID, c.In.At)
		c.Settings = &next
		c.RewriteAll(reminders.AskedBy(date).Key(machineOf(c)), chat.Lines(c.V.Say("feast."+how, "day",
			c.V.Day(date.Time()), "what", name, "who", c.F.Person.Name)))
	}
}
