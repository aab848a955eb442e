package engine_test

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

var expect = floor.Expect

type (
	taps    = map[string]func(*engine.Talk)
	screens = map[string]engine.Screen
)

// twoScreens is a made-up dialog: "how?" leads to "where?", which ends it.
func twoScreens() *engine.Flow {
	first := floor.Screen("how?", taps{"next": engine.GoBack("second")})
	first.What = "what.move"
	return floor.MadeUp("first", screens{"first": first,
		"second": floor.Screen("where?", taps{"confirm": func(c *engine.Talk) { c.Close(chat.Lines("kept")) }})})
}

// another is a made-up dialog of one screen, begun by words of its own.
func another(name, title string) *engine.Flow {
	f := floor.MadeUp("ask", screens{"ask": floor.Screen(title+"?", nil)})
	f.Name, f.Title = name, title
	f.Commands[0].Name = name
	f.Start = func(c *engine.Talk) {
		c.First("with: " + c.Rest + ".")
		c.GoTo("ask")
	}
	return f
}

// tells is a made-up command that only tells.
func tells(name, says string) engine.Command {
	return engine.Command{Name: name, Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords,
		Run: func(c *engine.Talk) { c.Say(says + " " + c.Rest) }}
}

// flowOf is the dialog somebody is in; empty for none.
func flowOf(f *floor.Floor, name string) string { return f.State(name).Flow }

// stepOf is the screen somebody is at; empty for none.
func stepOf(f *floor.Floor, name string) string { return f.State(name).Step }

// opening is a record of forty notes in each box.
func opening() books.Record {
	r := books.Record{Kind: books.Opening}
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		r.Figures = append(r.Figures, books.Figure{Field: books.Loaded, Box: i + 1, Face: face, Notes: 40})
	}
	return r
}

// opens has somebody open the machine.
func opens(f *floor.Floor, by shop.PersonID) {
	r := opening()
	r.Happened = f.Now.UTC()
	f.Record(by, r)
}

// secondMachine gives the shop another machine, which is like the first.
func secondMachine(f *floor.Floor) {
	m := f.Shop.Machines[0]
	m.ID, m.Name = 2, "Front"
	f.Shop.Machines = append(f.Shop.Machines, m)
}

// sees is what somebody is shown when the card is asked for again.
func sees(f *floor.Floor, name string) string {
	return f.Step(name, chat.Input{Kind: chat.Redraw}, name+"> (looks)")
}
