package day

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// TestFlow records a test dispense.
func TestFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoTest, Title: "test", Version: 1, Start: startTest,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 5, Loses: engine.LosesCounts, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{triedQuestion},
		Commands: []engine.Command{
			{Name: engine.DoTest, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures,
				Guided: true},
		},
		Screens: map[string]engine.Screen{
			"tried": triedQuestion.Screen(),
			"counted": {
				Ask: ask.AskCounted,
				Taps: map[string]func(*engine.Talk){"yes": ask.Choice("counted", "yes", "where"),
					"no": ask.Choice("counted", "no", "where")},
				Typed: ask.YesNo,
				What:  "what.counted",
			},
			"where": ask.WhereScreen("where", "review"),
			"review": ask.Booking{Read: readTest, Book: bookTest, Answer: ask.TypedCounts(ask.Only(triedQuestion)),
				Other: ask.Changes(engine.Anew("tried", "tried", "counted", "where"))}.Screen(),
		},
	}
}

var triedQuestion = ask.Question{
	Name: "tried", Lines: ask.BoxLines, Partial: true, Check: ask.CheckFits, What: "what.tried",
	Next:  engine.Unasked("counted", "where"),
	Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("one-each", "one-each")} },
	Taps: map[string]func(*engine.Talk){"one-each": func(c *engine.Talk) {
		v := make([]int64, len(ask.Boxes(c)))
		for i := range v {
			v[i] = 1
		}
		c.Put("tried", v)
	}},
}

func startTest(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	c.GoTo("tried")
	ask.Take(c, triedQuestion)
}

func readTest(c *engine.Talk) []chat.Block {
	shown, n := some(c, triedQuestion)
	if len(n) == 0 {
		return nil
	}
	table, _ := ask.CountTable(c, shown, n)
	return []chat.Block{{Text: c.V.Say("review.test")}, table,
		engine.Text(c.V.Say("review.counted-"+c.Chosen("counted")), whereLine(c))}
}

// whereLine says where notes were put.
func whereLine(c *engine.Talk) string {
	return c.V.Say("review.where", "where", c.V.Say("place."+c.Chosen("where")))
}

func bookTest(c *engine.Talk) {
	r := books.Record{Kind: books.Test, Period: ask.Target(c).No, Where: books.Place(c.Chosen("where")),
		Figures: ask.BoxFigures(books.Tried, ask.BoxLines(c), triedQuestion.Values(c), false)}
	if c.Chosen("counted") == "yes" {
		r.Marks = []books.Mark{books.Counted}
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	c.Close(engine.Text(c.V.Say("tested", "when", c.Clock(c.When())), c.Lock()))
}

// FoundFlow records notes found on the way of the notes, after a jam.
func FoundFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoFound, Title: "found", Version: 1, Start: startFound,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 7, Loses: engine.LosesCounts, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{pickedQuestion},
		Commands: []engine.Command{
			{Name: engine.DoFound, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures}},
		Screens: map[string]engine.Screen{
			"picked": pickedQuestion.Screen(),
			"where": ask.Pick{Head: ask.Asking("ask.found-where"),
				Options: ask.Labelled("where-", books.Tray, books.Path), Take: engine.Remembered("where", "review"),
				What: "what.found-where"}.Screen(),
			"review": ask.Booking{Read: readFound, Book: bookFound, Answer: ask.TypedCounts(ask.Only(pickedQuestion)),
				Other: ask.Changes(engine.Anew("picked", "picked", "where"))}.Screen(),
		},
	}
}

var pickedQuestion = ask.Question{
	Name: "picked", Lines: ask.KindLines, Intro: "before-found", Partial: true, What: "what.found",
	Next: engine.Unasked("where"),
}

func startFound(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	c.GoTo("picked")
	ask.Take(c, pickedQuestion)
}

func picked(c *engine.Talk) books.Notes {
	n := books.Notes{}
	for i, l := range ask.KindLines(c) {
		n.Plus(l.Face, max(pickedQuestion.Values(c)[i], 0))
	}
	return n
}

func readFound(c *engine.Talk) []chat.Block {
	if _, n := some(c, pickedQuestion); len(n) == 0 {
		return nil
	}
	return []chat.Block{engine.Text(c.V.Say("review.found", "notes", ask.Notes(c, picked(c))), whereLine(c))}
}

func bookFound(c *engine.Talk) {
	n := picked(c)
	r := books.Record{Kind: books.Found, Period: ask.Target(c).No, Where: books.Place(c.Chosen("where"))}
	for _, f := range n.Faces() {
		r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: n[f]})
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	c.Close(
		engine.Text(c.V.Say("found-recorded", "notes", ask.Notes(c, n), "when", c.Clock(c.When())), c.Lock()))
}
