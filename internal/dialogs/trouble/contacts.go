package trouble

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/guides"
	"shopfloat/internal/shop"
)

// contacts are whom a shop can ring, in the order they are shown. The emergency
// number is not among them: it follows from the country and cannot be changed.
var contactNames = []guides.Contact{guides.Provider, guides.Engineer, guides.Broadband, guides.Police,
	guides.Bank}

// contacts shows whom to ring; managers can change it.
func contacts(c *engine.Talk) {
	set := trade.GuideSettings(c)
	calls := []guides.Call{{Contact: guides.Emergency, Number: set.Number(guides.Emergency)}}
	for _, who := range contactNames {
		calls = append(calls, guides.Call{Contact: who, Number: set.Number(who)})
	}
	r := chat.Reply{
		Body: []chat.Block{engine.Text(append([]string{c.V.Say("contacts")}, trade.CallLines(c, calls)...)...)}}
	if c.May(engine.DoNumbers) {
		r.Buttons = [][]chat.Button{c.Button("numbers", "o:numbers:")}
	}
	c.Send(r)
}

// numbersTap begins to change whom to ring.
func numbersTap(c *engine.Talk, _ string) { c.CarryOut(engine.DoNumbers) }

// NumbersFlow lays down whom to ring, how long a restart takes, and what the
// provider itself tells the shop to do.
func NumbersFlow() *engine.Flow {
	back := func(c *engine.Talk) { c.GoTo("which") }
	screens := map[string]engine.Screen{
		"which": ask.Pick{Head: ask.Asking("numbers-which"), Options: numberOptions, What: "what.numbers"}.Screen(),
		"number": {Ask: askNumber, Answer: answerNumber, What: "what.number",
			Taps: map[string]func(*engine.Talk){"back": back, "none": noNumber}},
		"minutes": {Ask: askMinutes, Answer: answerMinutes, What: "what.minutes",
			Taps: map[string]func(*engine.Talk){"back": back}},
		"topic": ask.Pick{Head: ask.Asking("ask.topic"), Options: topicOptions, What: "what.advice"}.Screen(),
		"advice": {Ask: askAdvice, Answer: answerAdvice, Free: true, What: "what.advice",
			Taps: map[string]func(*engine.Talk){"back": back, "none": noAdvice}},
		"review": ask.Booking{Read: readNumbers, Book: bookNumbers, Other: ask.Changes(back), Plan: true,
			What: "what.numbers"}.Screen(),
	}
	return &engine.Flow{
		Name: engine.DoNumbers, Title: "numbers", Version: 1, Start: back, Screens: screens,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoContacts, Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: contacts, Rights: engine.Rights{Role: access.Everyone}},
			{Name: engine.DoNumbers, Does: engine.StartsDialog, Help: engine.HelpNever, Takes: engine.AnyWords},
		},
		Cards: []engine.Standing{{Name: engine.DoNumbers, Tap: numbersTap}},
	}
}

func numberOptions(c *engine.Talk) (list []ask.Option) {
	for _, who := range contactNames {
		list = append(list, ask.Option{Label: c.V.Say("call." + string(who)), Value: "who-" + string(who),
			Take: ask.Choice("who", string(who), "number")})
	}
	return append(list,
		ask.Option{Label: c.V.Say("button.numbers-minutes"), Value: "minutes", Take: engine.GoBack("minutes")},
		ask.Option{Label: c.V.Say("button.numbers-advice"), Value: "advice", Take: engine.GoBack("topic")})
}

func askNumber(c *engine.Talk) *engine.Card {
	who := c.V.Say("call." + c.Chosen("who"))
	k := &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.number", "who", who)}}}
	if c.F.Shop.Call(c.Chosen("who")) != "" {
		k.Buttons = append(k.Buttons, c.Button("number-none", "none"))
	}
	k.Buttons = append(k.Buttons, c.Button("back", "back"))
	return k
}

// Bounds of a telephone number in digits. E.164 allows 15; short numbers of
// police and providers have three.
const digitsMin, digitsMax = 3, 15

// phoneNumber reads a telephone number and writes it with single blanks.
func phoneNumber(s string) (number string, ok bool) {
	s = strings.Join(strings.Fields(s), " ")
	digits := 0
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '+' && i == 0, strings.ContainsRune(" -/().", r):
		default:
			return "", false
		}
	}
	return s, digits >= digitsMin && digits <= digitsMax
}

func answerNumber(c *engine.Talk, s string) bool {
	number, ok := phoneNumber(s)
	if !ok {
		c.First(c.V.Say("number-unclear"))
		return true
	}
	c.Choose("value", number)
	c.GoTo("review")
	return true
}

func noNumber(c *engine.Talk) {
	c.Choose("value", "")
	c.GoTo("review")
}

func askMinutes(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.minutes", "n", restartMinutes(c))}},
		Buttons: [][]chat.Button{c.Button("back", "back")}}
}

func restartMinutes(c *engine.Talk) int {
	if c.Kit != nil && c.Kit.RestartMinutes > 0 {
		return c.Kit.RestartMinutes
	}
	return guides.RestartMinutesUsual
}

func answerMinutes(c *engine.Talk, s string) bool {
	low := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(engine.Fold(s), "utes"), "min"))
	n, ok := ask.Index(low, shop.RestartMax+1)
	if !ok || n == 0 {
		c.First(c.V.Say("minutes-unclear", "max", shop.RestartMax))
		return true
	}
	c.Choose("who", "restart")
	c.Choose("value", strconv.Itoa(n))
	c.GoTo("review")
	return true
}

func topicOptions(c *engine.Talk) (list []ask.Option) {
	for i, id := range c.E.Library().IDs() {
		list = append(
			list,
			ask.Option{
				Label: ask.Short(c.E.GuideTitle(id), ask.LabelMax),
				Value: "t-" + strconv.Itoa(i),
				Take: func(c *engine.Talk) {
					c.Choose("who", "advice")
					ask.Choice("topic", id, "advice")(c)
				},
			},
		)
	}
	return list
}

func askAdvice(c *engine.Talk) *engine.Card {
	lines := []string{c.V.Say("ask.advice", "title", c.E.GuideTitle(c.Chosen("topic")))}
	k := &engine.Card{Buttons: [][]chat.Button{c.Button("back", "back")}}
	if now := advice(c, c.Chosen("topic")); now != "" {
		lines = append([]string{c.V.Say("advice-now", "text", now)}, lines...)
		k.Buttons = append(k.Buttons, c.Button("advice-none", "none"))
	}
	k.Body = []chat.Block{engine.Text(lines...)}
	return k
}

func advice(c *engine.Talk, topic string) string {
	for _, a := range c.F.Shop.Advice {
		if a.Topic == topic {
			return a.Text
		}
	}
	return ""
}

func answerAdvice(c *engine.Talk, s string) bool {
	s = strings.TrimSpace(s)
	if n := utf8.RuneCountInString(s); n == 0 || n > shop.AdviceMax {
		c.First(c.V.Say("advice-long", "max", shop.AdviceMax, "n", n))
		return true
	}
	c.Choose("value", s)
	c.GoTo("review")
	return true
}

func noAdvice(c *engine.Talk) {
	c.Choose("value", "")
	c.GoTo("review")
}

// readNumbers reads back what is to be laid down.
func readNumbers(c *engine.Talk) []chat.Block {
	what, value := numberLabel(c), c.Chosen("value")
	if c.Chosen("who") == "advice" {
		what = c.E.GuideTitle(c.Chosen("topic"))
	}
	line := c.V.Say("numbers-review", "what", what, "value", value)
	if value == "" {
		line = c.V.Say("numbers-review-none", "what", what)
	}
	return []chat.Block{engine.Text(line)}
}

func numberLabel(c *engine.Talk) string {
	switch who := c.Chosen("who"); who {
	case "restart":
		return c.V.Say("button.numbers-minutes")
	case "advice":
		return c.V.Say("button.numbers-advice")
	default:
		return c.V.Say("call." + who)
	}
}

func bookNumbers(c *engine.Talk) {
	s := c.F.Shop.Settings
	value := c.Chosen("value")
	switch who := c.Chosen("who"); who {
	case "restart":
		s.Machines = slices.Clone(s.Machines)
		n, _ := strconv.Atoi(value)
		for i := range s.Machines {
			if s.Machines[i].ID == c.M.ID {
				s.Machines[i].RestartMinutes = n
			}
		}
	case "advice":
		topic := c.Chosen("topic")
		s.Advice = slices.DeleteFunc(slices.Clone(s.Advice), func(a shop.Advice) bool { return a.Topic == topic })
		if value != "" {
			s.Advice = append(s.Advice, shop.Advice{Topic: topic, Text: value})
		}
	default:
		s.Numbers = slices.DeleteFunc(slices.Clone(s.Numbers), func(n shop.Number) bool { return n.Who == who })
		if value != "" {
			s.Numbers = append(s.Numbers, shop.Number{Who: who, Number: value})
		}
	}
	c.Settings = &s
	c.Close(engine.Text(c.V.Say("numbers-saved", "what", numberLabel(c), "when", c.Clock(c.In.At))))
}
