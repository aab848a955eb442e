package dialogs

import (
	"slices"
	"strconv"
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
	return pick{
		free: true, words: true, typed: []string{"back"}, what: whatTopic + t.name,
		first: t.askBack,
		head:  func(c *talk) *card { return t.ask(c, all) },
		options: func(c *talk) (list []option) {
			for i, o := range t.offers(c) {
				list = append(list, option{label: o.label, value: "v-" + strconv.Itoa(i),
					take: func(c *talk) { t.take(c, all, o.value) }})
			}
			return list
		},
		answer: func(c *talk, s string) bool { t.answer(c, all, s); return true },
		foot:   func(c *talk) [][]Button { return t.foot(c, all) },
		taps: map[string]func(*talk){
			"back":  func(c *talk) { back(c, all, t.name) },
			"keep":  func(c *talk) { t.take(c, all, c.chosen("doubt")) },
			"same":  func(c *talk) { t.take(c, all, c.chosen(t.name)) },
			"again": func(c *talk) { c.forget("doubt") },
		},
	}.screen()
}

func (t *topic) offers(c *talk) []offer {
	if t.offer == nil {
		return nil
	}
	return t.offer(c)
}

// askBack asks a value back that was typed and is doubtful.
func (t *topic) askBack(c *talk) *card {
	typed := c.chosen("doubt")
	if typed == "" {
		return nil
	}
	return &card{body: []Block{{Text: t.doubt(c, typed)}},
		buttons: [][]Button{c.button("right-so", "keep"), c.button("change", "again")}}
}

func (t *topic) ask(c *talk, all []topic) *card {
	if t.skipped(c) {
		goOn(c, all)
		return nil
	}
	return &card{body: []Block{{Text: c.v.Say("topic."+t.name, "place", c.f.Shop.Name)}}}
}

// skipped reports whether a topic is not asked here.
func (t *topic) skipped(c *talk) bool { return t.skip != nil && t.skip(c) }

// foot offers the answer given before, where none of those offered is it, and
// the topic before.
func (t *topic) foot(c *talk, all []topic) (rows [][]Button) {
	now := c.chosen(t.name)
	if now != "" && !slices.ContainsFunc(t.offers(c), func(o offer) bool { return o.value == now }) {
		rows = append(rows, c.button("same", "same", "value", clip(t.shown(c, now))))
	}
	if before(c, all, t.name) != "" {
		rows = append(rows, c.button("back", "back"))
	}
	return rows
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
	c.forget("doubt")
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
	c.forget("doubt")
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
		if c.chosen(all[i].name) == "" && !all[i].skipped(c) {
			return all[i].name
		}
	}
	return "review"
}

// back goes to the topic before, whose answer is asked again; when all are
// answered and one is looked at once more, to where it was chosen.
func back(c *talk, all []topic, from string) {
	c.forget("doubt")
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
		if !all[i].skipped(c) && (all[i].given == nil || !all[i].given(c)) {
			name = all[i].name
		}
	}
	return name
}

// changeTopic offers every topic to be answered again, two in a row.
func changeTopic(all []topic) screen {
	return changing{asks: "topic-which", back: "review", typed: []string{"back"}, what: "what.change-topic",
		options: func(c *talk) (list []option) {
			for i := range all {
				if !all[i].skipped(c) {
					list = append(list, option{label: c.v.Say("label." + all[i].name), value: all[i].name,
						beside: len(list)%2 == 1, take: goBack(all[i].name)})
				}
			}
			return list
		}}.screen()
}

// topicTable shows what was answered.
func topicTable(c *talk, all []topic) Block {
	var rows [][]string
	for i := range all {
		value := c.chosen(all[i].name)
		if value == "" || all[i].skipped(c) {
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
