package day

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// LevelFlow notes what the machine shows, and says what it means.
func LevelFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoLevel, Title: "level", Version: 1, Start: begin(shownQuestion), Late: true,
		Of: engine.ThatMoment, Read: "machine",
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.ThatDay, Part: 6, Loses: engine.LosesCounts,
		Stopped: engine.NothingBooked, Rights: whoCounts, Asks: []engine.Asked{shownQuestion},
		Commands: []engine.Command{{Name: engine.DoLevel, Does: engine.StartsDialog, Help: engine.HelpOften,
			Takes: engine.OnlyFigures, Menu: 3}},
		Cards: []engine.Standing{{Name: engine.DoLevel,
			Tap: func(c *engine.Talk, _ string) { c.CarryOut(engine.DoLevel) }}},
		Screens: map[string]engine.Screen{"shown": shownQuestion.Screen(),
			"review": ask.Booking{Read: readLevel, Book: bookLevel, Other: ask.Changes(anew("shown")),
				Answer: ask.TypedCounts(ask.Only(shownQuestion))}.Screen()},
	}
}

var shownQuestion = ask.Question{
	Name: "shown", Lines: ask.BoxLines, Intro: "before-level", Check: ask.CheckFits, What: "what.shown",
	Next: func(*engine.Talk) string { return "review" },
}

// readLevel reads back what the machine shows.
func readLevel(c *engine.Talk) []chat.Block {
	if trade.Ready(c) == nil {
		return nil
	}
	table, _ := telling.CountTable(c.Teller, ask.BoxLines(c), shownQuestion.Values(c))
	return []chat.Block{{Text: c.V.Say("review.level")}, table}
}

// bookLevel notes what the machine shows and answers what it means: paid out
// since loading, how fast, and when each kind will run out before closing time.
func bookLevel(c *engine.Talk) {
	p := trade.Ready(c)
	if p == nil {
		return
	}
	list, v := ask.BoxLines(c), shownQuestion.Values(c)
	if !bookedInside(c, books.Record{Kind: books.Level, Period: p.No,
		Figures: lines.Figures(books.Shown, list, v, true)}) {
		return
	}
	if c.Hidden() {
		c.Close(chat.Block{Text: c.V.Say("level-noted", "when", c.Clock(c.When()))}, chat.Lines(c.V.Say("hidden")))
		return
	}
	next := []string{c.V.Say("paper-next")} // what was to come then is past
	if c.State.Draft.Happened.IsZero() {
		next = telling.RunningOut(c.Teller, p, list, v, c.When())
	}
	c.Close(chat.Block{Text: c.V.Say("level.head", "when", c.Clock(p.Opened))},
		telling.Levels(c.Teller, p, list, v, c.When()), chat.Lines(next...))
}
