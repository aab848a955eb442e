package dialogs

import "shopfloat/internal/books"

// What is asked at an opening when the day before was not closed.
var (
	insideQuestion = question{
		name: "inside", lines: boxLines, intro: "not-closed", check: checkFits, what: "what.inside",
		before: cautionFirst, next: func(*talk) string { return "inside-tray" },
	}
	insideTrayQuestion = question{
		name: "inside-tray", lines: kindLines, none: true, partial: true, what: "what.tray", leftOut: "no-tray",
		next:  func(*talk) string { return "loaded" },
		extra: func(c *talk) [][]Button { return [][]Button{c.button("skip-tray", "skip")} },
		taps:  map[string]func(*talk){"skip": skipInsideTray},
	}
)

// cautionFirst says what to look at before the safe is opened: it is opened to
// count what is inside, so before the load is too late.
func cautionFirst(c *talk) string {
	if c.chosen("intro.inside") != "" {
		return ""
	}
	c.choose("intro.loaded", "yes")
	return c.v.Say("before-opening")
}

// nowIn tells the load from what was inside before.
func nowIn(c *talk) string {
	if !c.early() || c.chosen("intro.loaded") == "" {
		return ""
	}
	return c.v.Say("review.loaded")
}

func skipInsideTray(c *talk) {
	c.choose("no-tray", "yes")
	c.none("inside-tray")
}

// early reports whether what was left inside is counted with this opening.
func (c *talk) early() bool { return c.State.Draft.Period != 0 }

// insideReview reads back what was left inside and in the box for refused notes.
func (c *talk) insideReview() []Block {
	table, _ := c.countTable(boxLines(c), insideQuestion.values(c))
	tray := books.Notes{}
	for i, l := range kindLines(c) {
		tray.Plus(l.face, max(insideTrayQuestion.values(c)[i], 0))
	}
	return []Block{{Text: c.v.Say("review.inside", "day", c.chosen("day"))}, table, {Text: c.trayReview(tray)}}
}

// trayReview says what was counted in the box for refused notes.
func (c *talk) trayReview(tray books.Notes) string {
	switch {
	case c.chosen("no-tray") != "":
		return c.v.Say("review.no-tray")
	case len(tray) > 0:
		return c.v.Say("review.tray", "notes", c.notes(tray))
	}
	return c.v.Say("review.tray-empty")
}

// openingCounts are what an opening reads back: what was left inside too, where
// that is counted with it.
func openingCounts(c *talk) []question {
	if c.early() {
		return []question{insideQuestion, loadedQuestion}
	}
	return []question{loadedQuestion}
}

// openingLines are the lines of an opening: those put in, and those found
// inside before.
func openingLines(c *talk) []option {
	load := loadedQuestion.reopening("line", "line-")(c)
	if !c.early() {
		return load
	}
	tray := option{label: c.v.Say("button.tray"), value: "tray",
		take: anew("inside-tray", "inside-tray", "no-tray")}
	return append(append(insideQuestion.reopening("line-inside", "inside-")(c), tray), load...)
}
