package trouble

import (
	"strconv"
	"strings"
	"unicode/utf8"

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

// contacts are whom a shop can ring, in the order they are shown. The emergency
// number is not among them: it follows from the country and cannot be changed.
var contactNames = guides.Contacts()

// contacts shows whom to ring; managers can change it.
func contacts(c *engine.Talk) {
	r := chat.Reply{Body: []chat.Block{incidents.Contacts(c.Teller, c.May(engine.DoNumbers))}}
	if c.May(engine.DoNumbers) {
		r.Buttons = [][]chat.Button{c.Button("numbers", "o:numbers:")}
	}
	c.Send(r)
}

// numbersDraft is what is to be laid down: a number, how long a restart takes,
// or what the provider says to do about a guide's topic.
type numbersDraft struct {
	Who     guides.Contact `json:"who,omitempty"`     // whose number
	Minutes int            `json:"minutes,omitempty"` // of a restart; 0: it is not that
	Topic   string         `json:"topic,omitempty"`   // empty: it is not that
	Value   string         `json:"value,omitempty"`   // the number or the words; empty: it goes
}

func numbers(c *engine.Talk) *numbersDraft { return engine.Drafted[numbersDraft](c) }

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
		Draft: func() any { return &numbersDraft{} }, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoContacts, Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: contacts, Rights: engine.Rights{Role: access.Everyone}},
			{Name: engine.DoNumbers, Does: engine.StartsDialog, Help: engine.HelpNever, Takes: engine.AnyWords},
		},
		Cards: []engine.Standing{{Name: engine.DoNumbers,
			Tap: func(c *engine.Talk, _ string) { c.CarryOut(engine.DoNumbers) }}},
	}
}

// about makes a tap that says what is to be laid down.
func about(what numbersDraft, next string) func(*engine.Talk) {
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
	for _, who := range contactNames {
		list = append(list, ask.Option{Label: c.V.Say("call." + string(who)), Value: "who-" + string(who),
			Take: about(numbersDraft{Who: who}, "number")})
	}
	return append(list,
		ask.Option{Label: c.V.Say("button.numbers-minutes"), Value: "minutes", Take: engine.GoBack("minutes")},
		ask.Option{Label: c.V.Say("button.numbers-advice"), Value: "advice", Take: engine.GoBack("topic")})
}

func topicOptions(c *engine.Talk) (list []ask.Option) {
	for i, id := range c.Guides.IDs() {
		list = append(list, ask.Option{Label: texts.Short(c.GuideTitle(id), texts.LabelMax),
			Value: "t-" + strconv.Itoa(i), Take: about(numbersDraft{Topic: id}, "advice")})
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
	usual := guides.RestartMinutesUsual
	if c.Kit != nil && c.Kit.RestartMinutes > 0 {
		usual = c.Kit.RestartMinutes
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.minutes", "n", usual)}},
		Buttons: [][]chat.Button{c.Button("back", "back")}}
}

func answerMinutes(c *engine.Talk, s string) bool {
	low := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(texts.Fold(s), "utes"), "min"))
	if n, ok := ask.Index(low, shop.RestartMax+1); ok && n > 0 {
		about(numbersDraft{Minutes: n}, "review")(c)
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
	s = strings.TrimSpace(s)
	if n := utf8.RuneCountInString(s); n == 0 || n > shop.AdviceMax {
		c.First(c.V.Say("advice-long", "max", shop.AdviceMax, "n", n))
	} else {
		laidDown(c, s)
	}
	return true
}

// readNumbers reads back what is to be laid down.
func readNumbers(c *engine.Talk) []chat.Block {
	d, what := numbers(c), numberLabel(c)
	value := d.Value
	switch {
	case d.Minutes > 0:
		value = strconv.Itoa(d.Minutes)
	case d.Topic != "":
		what, value = c.GuideTitle(d.Topic), names.Words(value)
	}
	return []chat.Block{{Text: c.V.Say(texts.Either(value == "", "numbers-review-none", "numbers-review"),
		"what", what, "value", value)}}
}

func numberLabel(c *engine.Talk) string {
	switch d := numbers(c); {
	case d.Minutes > 0:
		return c.V.Say("button.numbers-minutes")
	case d.Topic != "":
		return c.V.Say("button.numbers-advice")
	default:
		return c.V.Say("call." + string(d.Who))
	}
}

func bookNumbers(c *engine.Talk) {
	s, d := c.F.Shop.Settings, numbers(c)
	switch {
	case d.Minutes > 0:
		s = s.WithRestart(c.M.ID, d.Minutes)
	case d.Topic != "":
		s = s.WithAdvice(shop.Advice{Topic: d.Topic, Text: d.Value})
	default:
		s = s.WithNumber(shop.Number{Who: string(d.Who), Number: d.Value})
	}
	c.Settings = &s
	c.Close(chat.Lines(c.V.Say("numbers-saved", "what", numberLabel(c), "when", c.Clock(c.In.At))))
}
