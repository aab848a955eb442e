package reminding

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// HoursFlow shows the plan of the week and changes it line by line.
func HoursFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoHours, Title: "hours", Version: 1, Draft: func() any { return &rota.Draft{} },
		Start: startHours,
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoHours, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords,
				Dated: true},
			{Name: engine.DoAgenda, Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: agenda},
			{Name: engine.DoReminders, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: ladders},
		},
		Screens: map[string]engine.Screen{
			"ask": ask.Booking{First: holidayLine.Card, Tap: holidayLine.Tap, Read: readHours, Answer: answerHours,
				Book: bookHours, Plan: true, What: "what.hours"}.Screen(),
			"feasts": feastPick.Screen(),
		},
		Cards: []engine.Standing{{Name: engine.DoFeast, Tap: tapFeast,
			Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp)}},
	}
}

func typedPlan(c *engine.Talk) *rota.Draft { return engine.Drafted[rota.Draft](c) }

// startHours shows the plan, or takes a line of it that came with the command.
func startHours(c *engine.Talk) {
	if !c.F.Person.Role.Manages() {
		c.Close(rota.Plan(c.Teller, &c.F.Shop.Settings)...)
		return
	}
	c.GoTo("ask")
	if said := rota.Spoken(c.Teller, c.Rest, texts.Fold(c.In.Text)); said != "" {
		answerHours(c, said)
	}
}

// readHours shows the plan with what was typed so far.
func readHours(c *engine.Talk) []chat.Block {
	c.Shopwide = true
	s := typedPlan(c).Over(c.F.Shop.Settings, c.Today())
	return rota.Plan(c.Teller, &s)
}

// holidayLine offers the line about public holidays while none was typed.
var holidayLine = ask.Pick{
	Head: func(c *engine.Talk) *engine.Card {
		if engine.LosesChoices(c) {
			return nil
		}
		return &engine.Card{Body: append(readHours(c), chat.Block{Text: c.V.Say("hours.how")})}
	},
	Options: func(c *engine.Talk) []ask.Option {
		trades := !c.F.Shop.Plan.TradesOnHolidays
		word := texts.Either(trades, "open", "closed")
		return []ask.Option{{Label: c.V.Say("button.holidays-" + word), Value: "holidays-" + word,
			Take: func(c *engine.Talk) { typedPlan(c).Holidays = &trades }},
			{Label: c.V.Say("button.feasts"), Value: "feasts", Take: engine.GoBack("feasts")}}
	},
}

func answerHours(c *engine.Talk, s string) bool {
	if c.Asks() { // what now is no plan
		return false
	}
	for line := range strings.Lines(texts.Fold(s)) {
		line = strings.Trim(line, " \n.,;")
		if line != "" && !typedPlan(c).Line(c.Teller, line) {
			c.First(rota.NotRead(c.Teller, line))
			return true
		}
		for _, h := range typedPlan(c).Likely {
			c.First(c.V.Say("hours.likely", "hours", telling.Span(h)))
		}
		typedPlan(c).Likely = nil
	}
	return true
}

func bookHours(c *engine.Talk) {
	c.Shopwide = true
	typedPlan(c).Signed(c.F.Person.ID, c.In.At)
	s := typedPlan(c).Over(c.F.Shop.Settings, c.Today())
	_, err := shop.New(c.F.Shop.ID, c.F.Shop.Version+1, s)
	switch {
	case !c.F.Person.Role.Manages():
		c.Close(chat.Block{Text: c.V.Say("hours.manager")})
	case err != nil:
		*typedPlan(c) = rota.Draft{}
		c.First(c.V.Say("hours.refused"))
	default:
		c.Settings = &s
		c.Close(chat.Lines(c.V.Say("hours.saved", "when", c.Clock(c.In.At))))
		c.TellAbout(reminders.Changed,
			chat.Reply{Body: []chat.Block{{Text: c.V.Say("hours.told", "who", c.F.Person.Name)}}})
	}
}

// ladders tells who is reminded when, task by task; a line that follows lays a ladder down.
func ladders(c *engine.Talk) {
	if c.Rest != "" {
		c.Begin(engine.DoHours)
		return
	}
	lines := []string{c.V.Say("ladder.head")}
	for _, task := range rota.Tasks() {
		lines = append(lines, rota.Ladder(c.Teller, task, reminders.Ladder(c.F.Shop, task)))
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(append(lines, c.V.Say("ladder.how"))...)}})
}

// agenda tells what is due next, and by whom.
func agenda(c *engine.Talk) { c.Send(chat.Reply{Body: []chat.Block{rota.Agenda(c.Teller, c.Rest)}}) }
