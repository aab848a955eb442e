package dialogs

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A topic is one thing that is laid down about a shop or a machine. Its answer
// stands in the draft's choices under its name until all are confirmed.
type topic struct {
	name  string
	skip  func(*talk) bool // nothing to ask here
	offer func(*talk) []offer
	read  func(*talk, string) (value, problem string) // a typed answer; nil: only what is offered
	doubt func(*talk, string) string                  // why a value is asked back; empty for none
	taken func(*talk)                                 // what else follows from the answer
	show  func(*talk, string) string                  // for the summary; nil: as it is
	given func(*talk) bool                            // another answer gave this one: back passes it by
}

// whatTopic begins the name of the answer to "What is this?".
const whatTopic = "what.topic."

// offer is an answer that can be tapped.
type offer struct{ label, value string }

// topicScreens makes the screens of a dialog that asks topics in turn, can go
// back at any step, and shows a summary before anything is saved.
func topicScreens(topics []topic, review screen) map[string]screen {
	screens := map[string]screen{"review": review, "change": changeTopic(topics)}
	for i := range topics {
		screens[topics[i].name] = topics[i].screen(topics)
	}
	return screens
}

func (t *topic) screen(all []topic) screen {
	return screen{
		free: true, typed: []string{"back"}, what: whatTopic + t.name,
		ask:    func(c *talk) *card { return t.ask(c, all) },
		answer: func(c *talk, s string) bool { t.answer(c, all, s); return true },
		taps: map[string]func(*talk){
			"back": func(c *talk) { back(c, all, t.name) },
			"keep": func(c *talk) { t.take(c, all, c.chosen("doubt")) },
			"same": func(c *talk) { t.take(c, all, c.chosen(t.name)) },
			"again": func(c *talk) {
				delete(c.State.Draft.Choices, "doubt")
			},
		},
		tap: func(c *talk, choice string) bool {
			n, found := strings.CutPrefix(choice, "v-")
			offers := t.offers(c)
			i, ok := index(n, len(offers))
			if found && ok {
				t.take(c, all, offers[i].value)
			}
			return found && ok
		},
	}
}

func (t *topic) offers(c *talk) []offer {
	if t.offer == nil {
		return nil
	}
	return t.offer(c)
}

func (t *topic) ask(c *talk, all []topic) *card {
	if t.skip != nil && t.skip(c) {
		goOn(c, all)
		return nil
	}
	if typed := c.chosen("doubt"); typed != "" {
		return &card{body: []Block{{Text: t.doubt(c, typed)}},
			buttons: [][]Button{c.button("right-so", "keep"), c.button("change", "again")}}
	}
	k := &card{body: []Block{{Text: c.v.Say("topic."+t.name, "place", c.f.Shop.Name)}}}
	now, offered := c.chosen(t.name), false
	for i, o := range t.offers(c) {
		offered = offered || o.value == now
		k.buttons = append(k.buttons, []Button{{o.label, "v-" + itoa(i)}})
	}
	if now != "" && !offered {
		k.buttons = append(k.buttons, c.button("same", "same", "value", clip(t.shown(c, now))))
	}
	if before(c, all, t.name) != "" {
		k.buttons = append(k.buttons, c.button("back", "back"))
	}
	return k
}

// shown writes an answer for people.
func (t *topic) shown(c *talk, value string) string {
	if t.show == nil {
		return value
	}
	return t.show(c, value)
}

// unbooked are the dialogs that book nothing anyway.
var unbooked = []string{"setup", "settings", "invite", "people", "lost-phone", "my-code", "switch"}

// clip cuts what is too long for a button.
func clip(s string) string { return short(s, nameMax) }

// labelMax is the most letters on a button.
const labelMax = 40

func short(s string, limit int) string {
	if r := []rune(s); len(r) > limit {
		return string(r[:limit-1]) + "…"
	}
	return s
}

func (t *topic) answer(c *talk, all []topic, s string) {
	delete(c.State.Draft.Choices, "doubt")
	for _, o := range t.offers(c) {
		if strings.EqualFold(strings.TrimSpace(s), o.label) {
			t.take(c, all, o.value)
			return
		}
	}
	if t.read == nil {
		c.first(c.v.Say("tap-one"))
		return
	}
	value, problem := t.read(c, s)
	if problem != "" {
		c.first(problem)
		return
	}
	if t.doubt != nil && t.doubt(c, value) != "" {
		c.choose("doubt", value)
		return
	}
	t.take(c, all, value)
}

func (t *topic) take(c *talk, all []topic, value string) {
	delete(c.State.Draft.Choices, "doubt")
	c.choose(t.name, value)
	if t.taken != nil {
		t.taken(c)
	}
	goOn(c, all)
}

// goOn goes to the first topic that has no answer, or to the summary.
func goOn(c *talk, all []topic) { c.goTo(pending(c, all)) }

func pending(c *talk, all []topic) string {
	for i := range all {
		if c.chosen(all[i].name) == "" && (all[i].skip == nil || !all[i].skip(c)) {
			return all[i].name
		}
	}
	return "review"
}

// back goes to the topic before, whose answer is asked again; when all are
// answered and one is looked at once more, to where it was chosen.
func back(c *talk, all []topic, from string) {
	delete(c.State.Draft.Choices, "doubt")
	if pending(c, all) == "review" {
		c.goTo("change")
		return
	}
	if name := before(c, all, from); name != "" {
		c.goTo(name)
	}
}

func before(c *talk, all []topic, from string) string {
	name := ""
	for i := range all {
		if all[i].name == from {
			break
		}
		if (all[i].skip == nil || !all[i].skip(c)) && (all[i].given == nil || !all[i].given(c)) {
			name = all[i].name
		}
	}
	return name
}

// changeTopic offers every topic to be answered again.
func changeTopic(all []topic) screen {
	return screen{
		what: "what.change-topic", typed: []string{"back"},
		ask: func(c *talk) *card {
			k := &card{body: []Block{{Text: c.v.Say("topic-which")}}}
			for i := range all {
				if all[i].skip == nil || !all[i].skip(c) {
					k.add(Button{c.v.Say("label." + all[i].name), all[i].name})
				}
			}
			k.buttons = append(k.buttons, c.button("back", "back"))
			return k
		},
		taps: map[string]func(*talk){"back": func(c *talk) { c.goTo("review") }},
		tap: func(c *talk, choice string) bool {
			for i := range all {
				if all[i].name == choice && (all[i].skip == nil || !all[i].skip(c)) {
					c.goTo(choice)
					return true
				}
			}
			return false
		},
	}
}

// add puts a button beside the last one, two in a row.
func (k *card) add(b Button) {
	if n := len(k.buttons); n > 0 && len(k.buttons[n-1]) < 2 {
		k.buttons[n-1] = append(k.buttons[n-1], b)
		return
	}
	k.buttons = append(k.buttons, []Button{b})
}

// topicTable shows what was answered.
func topicTable(c *talk, all []topic) Block {
	var rows [][]string
	for i := range all {
		value := c.chosen(all[i].name)
		if value == "" || all[i].skip != nil && all[i].skip(c) {
			continue
		}
		rows = append(rows, []string{c.v.Say("label." + all[i].name), all[i].shown(c, value)})
	}
	return columns(2, rows)
}

// nameMax bounds a name, in letters: it must fit on a button.
const nameMax = 30

// readName takes a name as it was typed, in one line.
func readName(c *talk, s string) (value, problem string) {
	s = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)), " ")
	if s == "" || utf8.RuneCountInString(s) > nameMax {
		return "", c.v.Say("name-length", "max", nameMax)
	}
	return s, ""
}

// index reads a place in a list of n.
func index(s string, n int) (int, bool) {
	i := 0
	for _, r := range s {
		if r < '0' || r > '9' || i > n {
			return 0, false
		}
		i = 10*i + int(r-'0')
	}
	return i, s != "" && i < n
}
