package ask

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/choosing"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/names"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// A Topic is one thing that is laid down about a shop or a machine. Its answer
// stands in the dialog's draft until all are confirmed.
type Topic[Draft, T any] struct {
	Name  string
	In    func(*Draft) **T        // where its answer stands; nil there: not given yet
	Skip  func(*engine.Talk) bool // nothing to ask here; nil: never
	Offer func(*engine.Talk) []Offer[T]
	Said  bool                                                 // an offer may be said in other words
	Read  func(*engine.Talk, string) (value T, problem string) // a typed answer; nil: only what is offered
	Doubt func(*engine.Talk, T) string                         // why a typed value is asked back; empty for none
	Taken func(*engine.Talk)                                   // what else follows from the answer
	Show  func(*engine.Talk, T) string                         // for people
	Given func(*engine.Talk) bool                              // another answer gave this one: back passes it by
	Named bool                                                 // it is a name
	On    string                                               // the page of answers on which its own stands
	Paged bool                                                 // what is offered is shown a page at a time
}

// Offer is an answer that can be tapped.
type Offer[T any] struct {
	Label string
	Value T
}

// A Subject is a topic of a draft, whatever the type of its answer.
type Subject[Draft any] interface {
	Called() string
	Skipped(*engine.Talk) bool         // it is not asked here
	Shown(*engine.Talk, *Draft) string // its answer in a draft; empty for none
	page() string
	answered(*engine.Talk) bool // in the draft at hand
	given(*engine.Talk) bool    // by another answer
	screen(Topics[Draft]) engine.Screen
}

// Topics are asked in turn. The dialog can go back at any step, and shows all
// answers before anything is saved.
type Topics[Draft any] []Subject[Draft]

// Screens make a dialog of the topics, given the screen that shows all answers.
func (all Topics[Draft]) Screens(review engine.Screen) map[string]engine.Screen {
	screens := map[string]engine.Screen{"review": review, "change": all.change()}
	for _, t := range all {
		screens[t.Called()] = t.screen(all)
	}
	return screens
}

// GoOn goes to the first topic that has no answer, or to the summary.
func (all Topics[Draft]) GoOn(c *engine.Talk) { c.GoTo(all.pending(c)) }

func (all Topics[Draft]) pending(c *engine.Talk) string {
	for _, t := range all {
		if !t.answered(c) && !t.Skipped(c) {
			return t.Called()
		}
	}
	return "review"
}

// back goes to the topic before, whose answer is asked again; when all are
// answered and one is looked at once more, to where it was chosen.
func (all Topics[Draft]) back(c *engine.Talk, from string) {
	c.State.Draft.Typed, c.State.Draft.Page = "", 0
	if all.pending(c) == "review" {
		c.GoTo("change")
		return
	}
	if name := all.before(c, from); name != "" {
		c.GoTo(name)
	}
}

func (all Topics[Draft]) before(c *engine.Talk, from string) (name string) {
	for _, t := range all {
		if t.Called() == from {
			break
		}
		if !t.Skipped(c) && !t.given(c) {
			name = t.Called()
		}
	}
	return name
}

// change offers every topic to be answered again, two in a row.
func (all Topics[Draft]) change() engine.Screen {
	return Changing{Asks: "topic-which", Back: "review", typed: []string{"back"}, what: "what.change-topic",
		Options: func(c *engine.Talk) (list []Option) {
			for _, t := range all {
				if !t.Skipped(c) {
					list = append(list, Option{Label: c.V.Say("label." + t.Called()), Value: t.Called(),
						Beside: len(list)%2 == 1, Take: engine.GoBack(t.Called())})
				}
			}
			return list
		}}.Screen()
}

// Pages are what was answered in parts that fit on a card, by name: those with an answer.
func (all Topics[Draft]) Pages(c *engine.Talk) (names []string) {
	for _, t := range all {
		if !slices.Contains(names, t.page()) && len(all.lines(c, t.page())) > 0 {
			names = append(names, t.page())
		}
	}
	return names
}

// Page shows what was answered on the page that is read: the first one unless another was chosen.
// last reports that none is after it.
func (all Topics[Draft]) Page(c *engine.Talk) (block chat.Block, next string) {
	names := all.Pages(c)
	i := max(slices.Index(names, c.State.Draft.Read), 0)
	c.State.Draft.Read = names[i]
	if i+1 < len(names) {
		next = names[i+1]
	}
	return chat.Lines(all.lines(c, names[i])...), next
}

func (all Topics[Draft]) lines(c *engine.Talk, page string) (list []string) {
	for _, t := range all {
		if value := t.Shown(c, engine.Drafted[Draft](c)); value != "" && !t.Skipped(c) && t.page() == page {
			list = append(list, c.V.Say("topic-line", "label", c.V.Say("label."+t.Called()), "value", value))
		}
	}
	return list
}

// Called is the topic's name.
func (t Topic[Draft, T]) Called() string { return t.Name }

// Skipped reports whether the topic is not asked here.
func (t Topic[Draft, T]) Skipped(c *engine.Talk) bool { return t.Skip != nil && t.Skip(c) }

// Shown writes the answer in a draft for people; empty where there is none.
func (t Topic[Draft, T]) Shown(c *engine.Talk, d *Draft) string {
	if value := *t.In(d); value != nil {
		return t.Show(c, *value)
	}
	return ""
}

func (t Topic[Draft, T]) page() string                 { return t.On }
func (t Topic[Draft, T]) answered(c *engine.Talk) bool { return *t.In(engine.Drafted[Draft](c)) != nil }
func (t Topic[Draft, T]) given(c *engine.Talk) bool    { return t.Given != nil && t.Given(c) }

func (t Topic[Draft, T]) screen(all Topics[Draft]) engine.Screen {
	return Pick{
		free: true, named: t.Named, words: true, Paged: t.Paged, typed: []string{"back"},
		What:  "what.topic." + t.Name,
		First: t.askBack,
		Head: func(c *engine.Talk) *engine.Card {
			if t.Skipped(c) {
				all.GoOn(c)
				return nil
			}
			fill := []any{"place", c.F.Shop.Name}
			if d, ok := any(engine.Drafted[Draft](c)).(interface{ Examples() []any }); ok {
				fill = append(fill, d.Examples()...)
			}
			return &engine.Card{Body: []chat.Block{{Text: c.V.Say("topic."+t.Name, fill...)}}}
		},
		Options: func(c *engine.Talk) (list []Option) {
			for i, o := range t.offers(c) {
				list = append(list, Option{Label: o.Label, Value: "v-" + strconv.Itoa(i),
					Take: func(c *engine.Talk) { t.take(c, all, o.Value) }})
			}
			return list
		},
		Answer: func(c *engine.Talk, s string) bool { t.answer(c, all, s); return true },
		Foot:   func(c *engine.Talk) [][]chat.Button { return t.foot(c, all) },
		Taps: map[string]func(*engine.Talk){
			"back":  func(c *engine.Talk) { all.back(c, t.Name) },
			"again": func(c *engine.Talk) { c.State.Draft.Typed = "" },
			"keep": func(c *engine.Talk) {
				if value, doubtful := t.doubtful(c); doubtful {
					t.take(c, all, value)
				}
			},
			"same": func(c *engine.Talk) {
				if now := *t.In(engine.Drafted[Draft](c)); now != nil {
					t.take(c, all, *now)
				}
			}},
	}.Screen()
}

func (t Topic[Draft, T]) offers(c *engine.Talk) []Offer[T] {
	if t.Offer == nil {
		return nil
	}
	return t.Offer(c)
}

// doubtful reads what was typed and is asked back.
func (t Topic[Draft, T]) doubtful(c *engine.Talk) (value T, waits bool) {
	typed := c.State.Draft.Typed
	if typed == "" || t.Doubt == nil {
		return value, false
	}
	value, problem := t.Read(c, typed)
	return value, problem == ""
}

func (t Topic[Draft, T]) askBack(c *engine.Talk) *engine.Card {
	value, doubtful := t.doubtful(c)
	if !doubtful {
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: t.Doubt(c, value)}},
		Buttons: [][]chat.Button{c.Button("right-so", "keep"), c.Button("change", "again")}}
}

// foot offers the answer given before, where none of those offered is it, and the topic before.
func (t Topic[Draft, T]) foot(c *engine.Talk, all Topics[Draft]) (rows [][]chat.Button) {
	now := t.Shown(c, engine.Drafted[Draft](c))
	offered := func(o Offer[T]) bool { return t.Show(c, o.Value) == now }
	if now != "" && !slices.ContainsFunc(t.offers(c), offered) {
		rows = append(rows, c.Button("same", "same", "value", Clip(now)))
	}
	if all.before(c, t.Name) != "" {
		rows = append(rows, c.Button("back", "back"))
	}
	return rows
}

func (t Topic[Draft, T]) answer(c *engine.Talk, all Topics[Draft], s string) {
	now, doubtful := t.doubtful(c)
	c.State.Draft.Typed = ""
	if low := strings.Trim(texts.Fold(s), " .!"); doubtful && c.IsWord("yes", low) {
		t.take(c, all, now)
		return
	} else if doubtful && c.IsWord("no", low) {
		return
	}
	value, problem := now, c.V.Say("tap-one")
	if t.Read != nil {
		value, problem = t.Read(c, s)
	}
	if problem != "" {
		if o := t.meant(c, s); o != nil {
			t.take(c, all, o.Value)
			return
		}
		c.First(problem)
	} else if t.Doubt != nil && t.Doubt(c, value) != "" {
		c.State.Draft.Typed = s
	} else {
		t.take(c, all, value)
	}
}

// meant is the offer that is said in everyday words: they stay inside. It is read back later.
func (t Topic[Draft, T]) meant(c *engine.Talk, s string) *Offer[T] {
	if !t.Said {
		return nil
	}
	offers, labels := t.offers(c), []string{}
	for _, o := range offers {
		labels = append(labels, o.Label)
	}
	if i := choosing.Named(s, labels); i >= 0 {
		return &offers[i]
	}
	return nil
}

func (t Topic[Draft, T]) take(c *engine.Talk, all Topics[Draft], value T) {
	c.State.Draft.Typed, c.State.Draft.Page = "", 0
	*t.In(engine.Drafted[Draft](c)) = &value
	if t.Taken != nil {
		t.Taken(c)
	}
	all.GoOn(c)
}

// Clip cuts what is too long for a button.
func Clip(s string) string { return texts.Short(s, nameMax) }

// nameMax bounds a name, in letters: it must fit on a button.
const nameMax = 30

// ReadPerson takes a person's name as it was typed, in its one form.
func ReadPerson(c *engine.Talk, s string) (value, problem string) {
	return telling.ReadName(c.Teller, s, names.Person, nameMax)
}

// ReadPlace takes the name of a shop or a machine as it was typed, in its one form.
func ReadPlace(c *engine.Talk, s string) (value, problem string) {
	return telling.ReadName(c.Teller, s, names.Place, nameMax)
}

// ReadMachine takes the name of a machine.
func ReadMachine(c *engine.Talk, s string) (value, problem string) {
	return telling.ReadName(c.Teller, s, names.Machine, nameMax)
}

// AsTyped shows words as they were typed.
func AsTyped(_ *engine.Talk, s string) string { return s }
