package ask

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

// A topic is one thing that is laid down about a shop or a machine. Its answer
// stands in the draft's choices under its name until all are confirmed.
type Topic struct {
	Name  string
	Skip  func(*engine.Talk) bool // nothing to ask here
	Offer func(*engine.Talk) []Offer
	Read  func(*engine.Talk, string) (value, problem string) // a typed answer; nil: only what is offered
	Doubt func(*engine.Talk, string) string                  // why a value is asked back; empty for none
	Taken func(*engine.Talk)                                 // what else follows from the answer
	Show  func(*engine.Talk, string) string                  // for the summary; nil: as it is
	Given func(*engine.Talk) bool                            // another answer gave this one: back passes it by
}

// whatTopic begins the name of the answer to "What is this?".
const whatTopic = "what.topic."

// Offer is an answer that can be tapped.
type Offer struct{ Label, Value string }

// TopicScreens makes the screens of a dialog that asks topics in turn, can go
// back at any step, and shows a summary before anything is saved.
func TopicScreens(topics []Topic, review engine.Screen) map[string]engine.Screen {
	screens := map[string]engine.Screen{"review": review, "change": changeTopic(topics)}
	for i := range topics {
		screens[topics[i].Name] = topics[i].screen(topics)
	}
	return screens
}

func (t *Topic) screen(all []Topic) engine.Screen {
	return Pick{
		free: true, words: true, typed: []string{"back"}, What: whatTopic + t.Name,
		First: t.askBack,
		Head:  func(c *engine.Talk) *engine.Card { return t.ask(c, all) },
		Options: func(c *engine.Talk) (list []Option) {
			for i, o := range t.offers(c) {
				list = append(list, Option{Label: o.Label, Value: "v-" + strconv.Itoa(i),
					Take: func(c *engine.Talk) { t.take(c, all, o.Value) }})
			}
			return list
		},
		Answer: func(c *engine.Talk, s string) bool { t.answer(c, all, s); return true },
		Foot:   func(c *engine.Talk) [][]chat.Button { return t.foot(c, all) },
		Taps: map[string]func(*engine.Talk){"back": func(c *engine.Talk) { back(c, all, t.Name) },
			"keep":  func(c *engine.Talk) { t.take(c, all, c.Chosen("doubt")) },
			"same":  func(c *engine.Talk) { t.take(c, all, c.Chosen(t.Name)) },
			"again": func(c *engine.Talk) { c.Forget("doubt") }},
	}.Screen()
}

func (t *Topic) offers(c *engine.Talk) []Offer {
	if t.Offer == nil {
		return nil
	}
	return t.Offer(c)
}

// askBack asks a value back that was typed and is doubtful.
func (t *Topic) askBack(c *engine.Talk) *engine.Card {
	typed := c.Chosen("doubt")
	if typed == "" {
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: t.Doubt(c, typed)}},
		Buttons: [][]chat.Button{c.Button("right-so", "keep"), c.Button("change", "again")}}
}

func (t *Topic) ask(c *engine.Talk, all []Topic) *engine.Card {
	if t.Skipped(c) {
		GoOn(c, all)
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("topic."+t.Name, "place", c.F.Shop.Name)}}}
}

// Skipped reports whether a topic is not asked here.
func (t *Topic) Skipped(c *engine.Talk) bool { return t.Skip != nil && t.Skip(c) }

// foot offers the answer given before, where none of those offered is it, and
// the topic before.
func (t *Topic) foot(c *engine.Talk, all []Topic) (rows [][]chat.Button) {
	now := c.Chosen(t.Name)
	if now != "" && !slices.ContainsFunc(t.offers(c), func(o Offer) bool { return o.Value == now }) {
		rows = append(rows, c.Button("same", "same", "value", Clip(t.shown(c, now))))
	}
	if before(c, all, t.Name) != "" {
		rows = append(rows, c.Button("back", "back"))
	}
	return rows
}

// shown writes an answer for people.
func (t *Topic) shown(c *engine.Talk, value string) string {
	if t.Show == nil {
		return value
	}
	return t.Show(c, value)
}

// Clip cuts what is too long for a button.
func Clip(s string) string { return Short(s, nameMax) }

// LabelMax is the most letters on a button.
const LabelMax = 40

func Short(s string, limit int) string {
	if r := []rune(s); len(r) > limit {
		return string(r[:limit-1]) + "…"
	}
	return s
}

func (t *Topic) answer(c *engine.Talk, all []Topic, s string) {
	c.Forget("doubt")
	if t.Read == nil {
		c.First(c.V.Say("tap-one"))
		return
	}
	value, problem := t.Read(c, s)
	if problem != "" {
		c.First(problem)
		return
	}
	if t.Doubt != nil && t.Doubt(c, value) != "" {
		c.Choose("doubt", value)
		return
	}
	t.take(c, all, value)
}

func (t *Topic) take(c *engine.Talk, all []Topic, value string) {
	c.Forget("doubt")
	c.Choose(t.Name, value)
	if t.Taken != nil {
		t.Taken(c)
	}
	GoOn(c, all)
}

// GoOn goes to the first topic that has no answer, or to the summary.
func GoOn(c *engine.Talk, all []Topic) { c.GoTo(pending(c, all)) }

func pending(c *engine.Talk, all []Topic) string {
	for i := range all {
		if c.Chosen(all[i].Name) == "" && !all[i].Skipped(c) {
			return all[i].Name
		}
	}
	return "review"
}

// back goes to the topic before, whose answer is asked again; when all are
// answered and one is looked at once more, to where it was chosen.
func back(c *engine.Talk, all []Topic, from string) {
	c.Forget("doubt")
	if pending(c, all) == "review" {
		c.GoTo("change")
		return
	}
	if name := before(c, all, from); name != "" {
		c.GoTo(name)
	}
}

func before(c *engine.Talk, all []Topic, from string) string {
	name := ""
	for i := range all {
		if all[i].Name == from {
			break
		}
		if !all[i].Skipped(c) && (all[i].Given == nil || !all[i].Given(c)) {
			name = all[i].Name
		}
	}
	return name
}

// changeTopic offers every topic to be answered again, two in a row.
func changeTopic(all []Topic) engine.Screen {
	return Changing{Asks: "topic-which", Back: "review", typed: []string{"back"}, what: "what.change-topic",
		Options: func(c *engine.Talk) (list []Option) {
			for i := range all {
				if !all[i].Skipped(c) {
					list = append(list, Option{Label: c.V.Say("label." + all[i].Name), Value: all[i].Name,
						Beside: len(list)%2 == 1, Take: engine.GoBack(all[i].Name)})
				}
			}
			return list
		}}.Screen()
}

// TopicTable shows what was answered.
func TopicTable(c *engine.Talk, all []Topic) chat.Block {
	var rows [][]string
	for i := range all {
		value := c.Chosen(all[i].Name)
		if value == "" || all[i].Skipped(c) {
			continue
		}
		rows = append(rows, []string{c.V.Say("label." + all[i].Name), all[i].shown(c, value)})
	}
	return engine.Columns(2, rows)
}

// nameMax bounds a name, in letters: it must fit on a button.
const nameMax = 30

// ReadName takes a name as it was typed, in one line.
func ReadName(c *engine.Talk, s string) (value, problem string) {
	s = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)), " ")
	if s == "" || utf8.RuneCountInString(s) > nameMax {
		return "", c.V.Say("name-length", "max", nameMax)
	}
	return s, ""
}

// Index reads a place in a list of n.
func Index(s string, n int) (int, bool) {
	i := 0
	for _, r := range s {
		if r < '0' || r > '9' || i > n {
			return 0, false
		}
		i = 10*i + int(r-'0')
	}
	return i, s != "" && i < n
}
