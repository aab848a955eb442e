package trouble

import (
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
	"shopfloat/internal/incidents"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// contacts shows whom to ring; managers can change it.
func contacts(c *engine.Talk) {
	r := chat.Reply{Body: []chat.Block{incidents.Contacts(c.Teller, c.May(engine.DoNumbers))}}
	if c.May(engine.DoNumbers) {
		r.Buttons = [][]chat.Button{c.Button("numbers", "o:numbers:")}
	}
	c.Send(r)
}

func numbers(c *engine.Talk) *incidents.Number { return engine.Drafted[incidents.Number](c) }

// NumbersFlow lays down whom to ring, how long a restart takes, and what the
// provider itself tells the shop to do.
func NumbersFlow() *engine.Flow {
	back := engine.GoBack("which")
	leave := map[string]func(*engine.Talk){"back": back}
	taps := map[string]func(*engine.Talk){"back": back, "none": func(c *engine.Talk) { laidDown(c, "") }}
	screens := map[string]engine.Screen{
		"which": ask.Pick{Head: ask.Asking("numbers-which"), Options: numberOptions,
			What: "what.numbers"}.Screen(),
		"number":  {Ask: askNumber, Answer: answerNumber, What: "what.number", Taps: taps},
		"minutes": {Ask: askMinutes, Answer: answerMinutes, What: "what.minutes", Taps: leave},
		"topic":   ask.Pick{Head: ask.Asking("ask.topic"), Options: topicOptions, What: "what.advice"}.Screen(),
		"advice":  {Ask: askAdvice, Answer: answerAdvice, Free: true, What: "what.advice", Taps: taps},
		"review": ask.Booking{Read: readNumbers, Book: bookNumbers, Other: ask.Changes(back), Plan: true,
			What: "what.numbers"}.Screen(),
	}
	return &engine.Flow{
		Name: engine.DoNumbers, Title: "numbers", Version: 1, View: true, Start: back, Screens: screens,
		Draft: func() any { return &incidents.Number{} }, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoContacts, Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: contacts, Rights: engine.Rights{Role: access.Everyone}},
			{Name: engine.DoNumbers, Does: engine.StartsDialog, Help: engine.HelpNever, Takes: engine.AnyWords},
		},
		Cards: []engine.Standing{{Name: engine.DoNumbers, Typed: chat.AnyTyped,
			Tap: func(c *engine.Talk, _ string) { c.CarryOut(engine.DoNumbers) }}},
	}
}

// about makes a tap that says what is to be laid down.
func about(what incidents.Number, next string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		*numbers(c) = what
		c.GoTo(next)
	}
}

// laidDown takes the number or the words; none: what there was goes.
func laidDown(c *engine.Talk, value string) {
	numbers(c).Value = value
	c.GoTo("review")
}

func numberOptions(c *engine.Talk) (list []ask.Option) {
	for _, who := range guides.Contacts() {
		list = append(list, ask.Option{Label: c.V.Say("call." + string(who)), Value: "who-" + string(who),
			Take: about(incidents.Number{Who: who}, "number")})
	}
	return append(list,
		ask.Option{Label: c.V.Say("button.numbers-minutes"), Value: "minutes", Take: engine.GoBack("minutes")},
		ask.Option{Label: c.V.Say("button.numbers-advice"), Value: "advice", Take: engine.GoBack("topic")})
}

func topicOptions(c *engine.Talk) (list []ask.Option) {
	for i, id := range c.Guides.IDs() {
		list = append(list, ask.Option{Label: texts.Short(c.GuideTitle(id), texts.LabelMax),
			Value: "t-" + strconv.Itoa(i), Take: about(incidents.Number{Topic: id}, "advice")})
	}
	return list
}

func askNumber(c *engine.Talk) *engine.Card {
	who := numbers(c).Who
	k := &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.number", "who", c.V.Say("call."+string(who)))}}}
	if c.F.Shop.Call(string(who)) != "" {
		k.Buttons = append(k.Buttons, c.Button("number-none", "none"))
	}
	k.Buttons = append(k.Buttons, c.Button("back", "back"))
	return k
}

func answerNumber(c *engine.Talk, s string) bool {
	if number, ok := guides.PhoneNumber(s); ok {
		laidDown(c, number)
	} else {
		c.First(c.V.Say("number-unclear"))
	}
	return true
}

func askMinutes(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.minutes", "n", incidents.Restart(c.Kit))}},
		Buttons: [][]chat.Button{c.Button("back", "back")}}
}

func answerMinutes(c *engine.Talk, s string) bool {
	if n, ok := incidents.Minutes(s); ok {
		about(incidents.Number{Minutes: n}, "review")(c)
	} else {
		c.First(c.V.Say("minutes-unclear", "max", shop.RestartMax))
	}
	return true
}

func askAdvice(c *engine.Talk) *engine.Card {
	topic := numbers(c).Topic
	text := c.V.Say("ask.advice", "title", c.GuideTitle(topic))
	k := &engine.Card{Buttons: [][]chat.Button{c.Button("back", "back")}}
	if now := incidents.GuideSettings(c.Teller).Provider[topic]; now != "" {
		text = c.V.Say("advice-now", "text", names.Words(now)) + "\n" + text
		k.Buttons = append(k.Buttons, c.Button("advice-none", "none"))
	}
	k.Body = []chat.Block{{Text: text}}
	return k
}

func answerAdvice(c *engine.Talk, s string) bool {
	if words, problem := incidents.AdviceFits(c.Teller, s); problem != "" {
		c.First(problem)
	} else {
		laidDown(c, words)
	}
	return true
}

// readNumbers reads back what is to be laid down.
func readNumbers(c *engine.Talk) []chat.Block {
	return []chat.Block{{Text: numbers(c).Read(c.Teller)}}
}

func bookNumbers(c *engine.Talk) {
	s := numbers(c).Into(c.F.Shop.Settings, c.M.ID)
	c.Settings = &s
	c.Close(chat.Lines(c.V.Say("numbers-saved", "what", numbers(c).Label(c.Teller), "when", c.Clock(c.In.At))))
}
