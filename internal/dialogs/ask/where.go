package ask

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

// Blind hides what should be in the machine while a screen is open.
func Blind(s engine.Screen) engine.Screen {
	s.Blind = true
	return s
}

// Choice makes a tap that remembers an answer and goes on.
func Choice(name, value, next string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		c.Choose(name, value)
		c.GoTo(next)
	}
}

func AskCounted(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.counted")}},
		Buttons: [][]chat.Button{c.Button("yes", "yes"), c.Button("no", "no")}}
}

// testPlaces are where test notes can have gone.
var testPlaces = []books.Place{books.Tray, books.Boxes, books.Cash, books.Till}

// WhereScreen asks where test notes are.
func WhereScreen(name, next string) engine.Screen {
	return Pick{Head: Asking("ask.where"), Options: Labelled("where-", testPlaces...),
		Take: engine.Remembered(name, next), What: "what.where"}.Screen()
}
