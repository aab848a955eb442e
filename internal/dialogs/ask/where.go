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
