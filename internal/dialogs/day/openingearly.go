package day

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// What is asked at an opening when the day before was not closed.
var (
	insideQuestion = ask.Question{
		Name: "inside", Lines: ask.BoxLines, Intro: "not-closed", Check: ask.CheckFits, What: "what.inside",
		Before: cautionFirst, Next: func(*engine.Talk) string { return "inside-tray" },
	}
	insideTrayQuestion = ask.Question{
		Name: "inside-tray", Lines: ask.KindLines, None: true, Partial: true, What: "what.tray", LeftOut: "no-tray",
		Passed: func(c *engine.Talk) bool { return opening(c).NoTray },
		Next:   func(*engine.Talk) string { return "loaded" },
		Extra:  func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-tray", "skip")} },
		Taps:   map[string]func(*engine.Talk){"skip": skipInsideTray},
	}
)

// cautionFirst says what to look at before the safe is opened: it is opened to
// count what is inside, so before the load is too late.
func cautionFirst(c *engine.Talk) string {
	if c.Answers("inside").Told {
		return ""
	}
	c.Answers("loaded").Told = true
	return c.V.Say("before-opening")
}

// nowIn tells the load from what was inside before.
func nowIn(c *engine.Talk) string {
	if !early(c) || !c.Answers("loaded").Told {
		return ""
	}
	return c.V.Say("review.loaded")
}

func skipInsideTray(c *engine.Talk) {
	opening(c).NoTray = true
	ask.None(c, "inside-tray")
}

// early reports whether what was left inside is counted with this opening.
func early(c *engine.Talk) bool { return c.State.Draft.Period != 0 }

// insideReview reads back what was left inside and in the box for refused notes.
func insideReview(c *engine.Talk) []chat.Block {
	table, _ := ask.CountTable(c, ask.BoxLines(c), insideQuestion.Values(c))
	tray := books.Notes{}
	for i, l := range ask.KindLines(c) {
		tray.Plus(l.Face, max(insideTrayQuestion.Values(c)[i], 0))
	}
	left := ask.TrayReview(c, tray)
	if opening(c).NoTray {
		left = c.V.Say("review.no-tray")
	}
	return []chat.Block{{Text: c.V.Say("review.inside", "day", ask.OpenedDay(c))}, table, {Text: left}}
}

// openingCounts are what an opening reads back: what was left inside too, where
// that is counted with it.
func openingCounts(c *engine.Talk) []ask.Question {
	if early(c) {
		return []ask.Question{insideQuestion, loadedQuestion}
	}
	return []ask.Question{loadedQuestion}
}

// openingLines are the lines of an opening: those put in, and those found
// inside before.
func openingLines(c *engine.Talk) []ask.Option {
	load := loadedQuestion.Reopening("line", "line-")(c)
	if !early(c) {
		return load
	}
	tray := ask.Option{Label: c.V.Say("button.tray"), Value: "tray",
		Take: func(c *engine.Talk) {
			opening(c).NoTray = false
			anew("inside-tray")(c)
		}}
	return append(append(insideQuestion.Reopening("line-inside", "inside-")(c), tray), load...)
}
