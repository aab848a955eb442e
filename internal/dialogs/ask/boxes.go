package ask

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// Boxes are the note boxes that what is told now is about: as they were loaded, while a period is under way
// that was loaded before the settings changed, else as they are laid down.
func Boxes(c *engine.Talk) []shop.Box { return lines.Boxes(Target(c), c.Kit.Boxes) }

// SlipLines are the kinds of note in the order in which the machine's slip lists them.
func SlipLines(c *engine.Talk) []Line { return lines.Kinds(lines.InOrder(faces(c), c.Kit.SlipOrder)) }

// faces are the kinds of note in those boxes, each once, in the order of asking: from the top box down.
func faces(c *engine.Talk) (list []cashmath.Face) {
	for _, b := range Boxes(c) {
		if !slices.Contains(list, b.Face) {
			list = append(list, b.Face)
		}
	}
	return list
}

// Blind hides what should be in the machine while a screen is open.
func Blind(s engine.Screen) engine.Screen {
	s.Blind = true
	return s
}

func askCounted(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.counted")}},
		Buttons: [][]chat.Button{c.Button("yes", "yes"), c.Button("no", "no")}}
}

// TestPlaces are where test notes can have gone.
var TestPlaces = []books.Place{books.Tray, books.Boxes, books.Cash, books.Till}

// TestCounted asks whether the machine counted notes of a test as paid out.
func TestCounted(take func(*engine.Talk, bool)) engine.Screen {
	taps := map[string]func(*engine.Talk){
		"yes": func(c *engine.Talk) { take(c, true) }, "no": func(c *engine.Talk) { take(c, false) }}
	return engine.Screen{Ask: askCounted, Taps: taps, Typed: YesNo, What: "what.counted"}
}

// TestPlace asks where notes of a test are.
func TestPlace(take func(*engine.Talk, books.Place)) engine.Screen {
	return Pick{Head: Asking("ask.where"), Options: Labelled("where-", TestPlaces...), What: "what.where",
		Take: func(c *engine.Talk, where string) { take(c, books.Place(where)) }}.Screen()
}

// Target is the period that what is told now belongs to, or nil.
func Target(c *engine.Talk) *books.Period {
	if c.State.Draft.Period != 0 {
		return c.M.Period(c.State.Draft.Period)
	}
	if c.State.Draft.Happened.IsZero() {
		return c.M.Current()
	}
	var best *books.Period
	for _, p := range c.M.Periods {
		if p.Unfinished() && !p.Opened.After(c.State.Draft.Happened) &&
			(best == nil || p.Opened.After(best.Opened)) {
			best = p
		}
	}
	return best
}

// OpenedDay writes the day on which the period began that what is told now
// belongs to; empty where there is none.
func OpenedDay(c *engine.Talk) string {
	p := Target(c)
	if p == nil {
		return ""
	}
	return c.V.Day(c.Local(p.Opened))
}
