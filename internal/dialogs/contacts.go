package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shopfloat/internal/access"
	"shopfloat/internal/guides"
	"shopfloat/internal/shop"
)

// contacts are whom a shop can ring, in the order they are shown. The emergency
// number is not among them: it follows from the country and cannot be changed.
var contactNames = []guides.Contact{guides.Provider, guides.Engineer, guides.Broadband, guides.Police,
	guides.Bank}

// contacts shows whom to ring; managers can change it.
func (c *talk) contacts() {
	set := c.guideSettings()
	calls := []guides.Call{{Contact: guides.Emergency, Number: set.Number(guides.Emergency)}}
	for _, who := range contactNames {
		calls = append(calls, guides.Call{Contact: who, Number: set.Number(who)})
	}
	r := Reply{Body: []Block{text(append([]string{c.v.Say("contacts")}, c.callLines(calls)...)...)}}
	if c.may(doNumbers) {
		r.Buttons = [][]Button{c.button("numbers", "o:numbers:")}
	}
	c.send(r)
}

// numbersTap begins to change whom to ring.
func (c *talk) numbersTap(_ string) { c.carryOut(doNumbers) }

// numbersFlow lays down whom to ring, how long a restart takes, and what the
// provider itself tells the shop to do.
func numbersFlow() *flow {
	back := func(c *talk) { c.goTo("which") }
	screens := map[string]screen{
		"which": pick{head: asking("numbers-which"), options: numberOptions, what: "what.numbers"}.screen(),
		"number": {ask: askNumber, answer: answerNumber, what: "what.number",
			taps: map[string]func(*talk){"back": back, "none": noNumber}},
		"minutes": {ask: askMinutes, answer: answerMinutes, what: "what.minutes",
			taps: map[string]func(*talk){"back": back}},
		"topic": pick{head: asking("ask.topic"), options: (*talk).topicOptions, what: "what.advice"}.screen(),
		"advice": {ask: (*talk).askAdvice, answer: answerAdvice, free: true, what: "what.advice",
			taps: map[string]func(*talk){"back": back, "none": noAdvice}},
		"review": booking{read: (*talk).readNumbers, book: bookNumbers, other: changes(back), plan: true,
			what: "what.numbers"}.screen(),
	}
	return &flow{
		name: doNumbers, title: "numbers", version: 1, start: back, screens: screens,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights: rights{access.Managing, anyPhone, onceSetUp},
		commands: []command{
			{name: doContacts, does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).contacts,
				rights: rights{role: access.Everyone}},
			{name: doNumbers, does: startsDialog, help: helpNever, takes: anyWords},
		},
		cards: []standing{{name: doNumbers, tap: (*talk).numbersTap}},
	}
}

func numberOptions(c *talk) (list []option) {
	for _, who := range contactNames {
		list = append(list, option{label: c.v.Say("call." + string(who)), value: "who-" + string(who),
			take: choice("who", string(who), "number")})
	}
	return append(list,
		option{label: c.v.Say("button.numbers-minutes"), value: "minutes", take: goBack("minutes")},
		option{label: c.v.Say("button.numbers-advice"), value: "advice", take: goBack("topic")})
}

func askNumber(c *talk) *card {
	who := c.v.Say("call." + c.chosen("who"))
	k := &card{body: []Block{{Text: c.v.Say("ask.number", "who", who)}}}
	if c.f.Shop.Call(c.chosen("who")) != "" {
		k.buttons = append(k.buttons, c.button("number-none", "none"))
	}
	k.buttons = append(k.buttons, c.button("back", "back"))
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

func answerNumber(c *talk, s string) bool {
	number, ok := phoneNumber(s)
	if !ok {
		c.first(c.v.Say("number-unclear"))
		return true
	}
	c.choose("value", number)
	c.goTo("review")
	return true
}

func noNumber(c *talk) {
	c.choose("value", "")
	c.goTo("review")
}

func askMinutes(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("ask.minutes", "n", c.restartMinutes())}},
		buttons: [][]Button{c.button("back", "back")}}
}

func (c *talk) restartMinutes() int {
	if c.kit != nil && c.kit.RestartMinutes > 0 {
		return c.kit.RestartMinutes
	}
	return guides.RestartMinutesUsual
}

func answerMinutes(c *talk, s string) bool {
	low := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(fold(s), "utes"), "min"))
	n, ok := index(low, shop.RestartMax+1)
	if !ok || n == 0 {
		c.first(c.v.Say("minutes-unclear", "max", shop.RestartMax))
		return true
	}
	c.choose("who", "restart")
	c.choose("value", strconv.Itoa(n))
	c.goTo("review")
	return true
}

func (c *talk) topicOptions() (list []option) {
	for i, id := range c.e.library().IDs() {
		list = append(list, option{label: short(c.e.guideTitle(id), labelMax), value: "t-" + strconv.Itoa(i), take: func(c *talk) {
			c.choose("who", "advice")
			choice("topic", id, "advice")(c)
		}})
	}
	return list
}

func (c *talk) askAdvice() *card {
	lines := []string{c.v.Say("ask.advice", "title", c.e.guideTitle(c.chosen("topic")))}
	k := &card{buttons: [][]Button{c.button("back", "back")}}
	if now := c.advice(c.chosen("topic")); now != "" {
		lines = append([]string{c.v.Say("advice-now", "text", now)}, lines...)
		k.buttons = append(k.buttons, c.button("advice-none", "none"))
	}
	k.body = []Block{text(lines...)}
	return k
}

func (c *talk) advice(topic string) string {
	for _, a := range c.f.Shop.Advice {
		if a.Topic == topic {
			return a.Text
		}
	}
	return ""
}

func answerAdvice(c *talk, s string) bool {
	s = strings.TrimSpace(s)
	if n := utf8.RuneCountInString(s); n == 0 || n > shop.AdviceMax {
		c.first(c.v.Say("advice-long", "max", shop.AdviceMax, "n", n))
		return true
	}
	c.choose("value", s)
	c.goTo("review")
	return true
}

func noAdvice(c *talk) {
	c.choose("value", "")
	c.goTo("review")
}

// readNumbers reads back what is to be laid down.
func (c *talk) readNumbers() []Block {
	what, value := c.numberLabel(), c.chosen("value")
	if c.chosen("who") == "advice" {
		what = c.e.guideTitle(c.chosen("topic"))
	}
	line := c.v.Say("numbers-review", "what", what, "value", value)
	if value == "" {
		line = c.v.Say("numbers-review-none", "what", what)
	}
	return []Block{text(line)}
}

func (c *talk) numberLabel() string {
	switch who := c.chosen("who"); who {
	case "restart":
		return c.v.Say("button.numbers-minutes")
	case "advice":
		return c.v.Say("button.numbers-advice")
	default:
		return c.v.Say("call." + who)
	}
}

func bookNumbers(c *talk) {
	s := c.f.Shop.Settings
	value := c.chosen("value")
	switch who := c.chosen("who"); who {
	case "restart":
		s.Machines = slices.Clone(s.Machines)
		n, _ := strconv.Atoi(value)
		for i := range s.Machines {
			if s.Machines[i].ID == c.m.ID {
				s.Machines[i].RestartMinutes = n
			}
		}
	case "advice":
		topic := c.chosen("topic")
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
	c.close(text(c.v.Say("numbers-saved", "what", c.numberLabel(), "when", c.clock(c.in.At))))
}
