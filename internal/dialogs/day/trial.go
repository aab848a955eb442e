package day

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/texts"
)

// A testDraft keeps what became of the notes of a test.
type testDraft struct {
	Asked   bool        `json:"asked,omitempty"`   // whether the machine counted them as paid out
	Counted bool        `json:"counted,omitempty"` // it did
	Where   books.Place `json:"where,omitempty"`
}

func test(c *engine.Talk) *testDraft { return engine.Drafted[testDraft](c) }

// TestFlow records a test dispense.
func TestFlow() *engine.Flow {
	return atMachine(engine.Flow{
		Name: engine.DoTest, Title: "test", Late: true, Start: begin(triedQuestion),
		Paper: engine.ThatDay, Part: 5,
		Draft: func() any { return &testDraft{} }, Asks: []engine.Asked{triedQuestion},
		Commands: []engine.Command{{Name: engine.DoTest, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.OnlyFigures, Guided: true}},
		Screens: map[string]engine.Screen{
			"tried": triedQuestion.Screen(),
			"counted": ask.TestCounted(func(c *engine.Talk, yes bool) {
				test(c).Asked, test(c).Counted = true, yes
				c.GoTo("where")
			}),
			"where": ask.TestPlace(func(c *engine.Talk, where books.Place) {
				test(c).Where = where
				c.GoTo("review")
			}),
			"review": ask.Booking{Read: readTest, Book: bookTest, Answer: ask.TypedCounts(ask.Only(triedQuestion)),
				Other: ask.Changes(func(c *engine.Talk) {
					*test(c) = testDraft{}
					anew("tried")(c)
				})}.Screen(),
		},
	})
}

var triedQuestion = ask.Question{
	Name: "tried", Lines: ask.BoxLines, Partial: true, Check: ask.CheckFits, What: "what.tried",
	Next: func(c *engine.Talk) string {
		switch d := test(c); {
		case !d.Asked:
			return "counted"
		case d.Where == "":
			return "where"
		}
		return "review"
	},
	Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("one-each", "one-each")} },
	Taps: map[string]func(*engine.Talk){"one-each": func(c *engine.Talk) {
		c.Put("tried", slices.Repeat([]int64{1}, len(ask.Boxes(c))))
	}},
}

func readTest(c *engine.Talk) []chat.Block {
	body, d := listed(c, triedQuestion, "review.test"), test(c)
	if body == nil {
		return nil
	}
	counted := c.V.Say(texts.Either(d.Counted, "review.counted-yes", "review.counted-no"))
	return append(body, chat.Lines(counted, whereLine(c, d.Where)))
}

// whereLine says where notes were put, or lay.
func whereLine(c *engine.Talk, where books.Place) string {
	return c.V.Say("review.where", "where", c.V.Say("place."+string(where)))
}

func bookTest(c *engine.Talk) {
	r := books.Record{Kind: books.Test, Period: ask.Target(c).No, Where: test(c).Where,
		Figures: lines.Figures(books.Tried, ask.BoxLines(c), triedQuestion.Values(c), false)}
	if test(c).Counted {
		r.Marks = []books.Mark{books.Counted}
	}
	if bookedInside(c, r) {
		c.Close(chat.Lines(c.V.Say("tested", "when", c.Clock(c.When())), c.Lock()))
	}
}

type foundDraft struct {
	Where books.Place `json:"where,omitempty"` // the notes lay
}

func found(c *engine.Talk) *foundDraft { return engine.Drafted[foundDraft](c) }

// FoundFlow records notes found on the way of the notes, after a jam.
func FoundFlow() *engine.Flow {
	return atMachine(engine.Flow{
		Name: engine.DoFound, Title: "found", Start: begin(pickedQuestion), Paper: engine.ThatDay, Part: 7,
		Draft: func() any { return &foundDraft{} }, Asks: []engine.Asked{pickedQuestion},
		Commands: []engine.Command{{Name: engine.DoFound, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.OnlyFigures, Finds: true}},
		Screens: map[string]engine.Screen{
			"picked": pickedQuestion.Screen(),
			"where": ask.Pick{Head: ask.Asking("ask.found-where"),
				Options: ask.Labelled("where-", books.Tray, books.Path), What: "what.found-where",
				Take: func(c *engine.Talk, where string) {
					found(c).Where = books.Place(where)
					c.GoTo("review")
				}}.Screen(),
			"review": ask.Booking{Read: readFound, Book: bookFound, Answer: ask.TypedCounts(ask.Only(pickedQuestion)),
				Other: ask.Changes(func(c *engine.Talk) {
					found(c).Where = ""
					anew("picked")(c)
				})}.Screen(),
		},
	})
}

// aboutWay are the words for where notes are found.
const aboutWay = "i in the tray exit outlet slot reject rejects way out stuck behind box machine it was"

var pickedQuestion = ask.Question{
	Name: "picked", Lines: ask.KindLines, Intro: "before-found", Partial: true, What: "what.found",
	About: aboutWay,
	Next:  func(c *engine.Talk) string { return texts.Either(found(c).Where == "", "where", "review") },
}

func readFound(c *engine.Talk) []chat.Block {
	if empty(c, pickedQuestion) {
		return nil
	}
	notes := c.V.Say("review.found", "notes", c.Notes(pickedQuestion.Notes(c)))
	return []chat.Block{chat.Lines(notes, whereLine(c, found(c).Where))}
}

func bookFound(c *engine.Talk) {
	n := pickedQuestion.Notes(c)
	r := books.Record{Kind: books.Found, Period: ask.Target(c).No, Where: found(c).Where}
	for _, f := range n.Faces() {
		r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: n[f]})
	}
	if bookedInside(c, r) {
		done := c.V.Say("found-recorded", "notes", c.Notes(n), "when", c.Clock(c.When()))
		c.Close(chat.Lines(done, c.Lock()))
	}
}
