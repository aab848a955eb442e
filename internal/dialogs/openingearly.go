package dialogs

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/counts"
)

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

// openingReview is the review of an opening. With two counts on it, a figure
// typed there could belong to either, so it is asked which.
func openingReview() screen {
	s := review("loaded", askOpeningReview, confirmOpening)
	s.answer = typedOnReview(s.answer)
	return s
}

// openingChange offers the lines of an opening to change: those put in, and
// those found inside before.
func openingChange() screen {
	s := changeLine(loadedQuestion, "loaded")
	ask, tap := s.ask, s.tap
	s.ask = func(c *talk) *card {
		k := ask(c)
		if c.early() {
			k.buttons = append(insideButtons(c), k.buttons...)
		}
		return k
	}
	s.tap = func(c *talk, choice string) bool { return c.early() && tapInside(c, choice) || tap(c, choice) }
	s.answer = typedOnReview(s.answer)
	return s
}

func insideButtons(c *talk) (rows [][]Button) {
	lines, v := boxLines(c), insideQuestion.values(c)
	for i, l := range lines {
		rows = append(rows, []Button{{c.v.Say("button.line-inside", "line", c.lineName(lines, l),
			"n", c.v.Number(max(v[i], 0))), "inside-" + itoa(i)}})
	}
	return append(rows, c.button("tray", "tray"))
}

func tapInside(c *talk, choice string) bool {
	if choice == "tray" {
		delete(c.State.Draft.Counts, "inside-tray")
		delete(c.State.Draft.Choices, "no-tray")
		c.goTo("inside-tray")
		return true
	}
	at, ok := strings.CutPrefix(choice, "inside-")
	if !ok || !insideQuestion.pick(c, "line-"+at) {
		return false
	}
	c.goTo("inside")
	return true
}

// typedOnReview asks of counts typed on a card that shows two counts which of
// them they change; with one on it they change that at once.
func typedOnReview(atOnce func(*talk, string) bool) func(*talk, string) bool {
	return func(c *talk, s string) bool {
		if !c.early() || len(counts.Parse(s, c.request(loadLines(c), 0, loadedQuestion)).Items) == 0 {
			return atOnce(c, s)
		}
		c.choose("typed", s)
		c.goTo("whose")
		return true
	}
}

// whoseScreen asks whether typed counts belong to what was inside or to what was put in.
func whoseScreen() screen {
	return screen{
		ask: func(c *talk) *card {
			return &card{
				body: []Block{{Text: c.v.Say("ask.whose", "near", c.chosen("typed"))}},
				buttons: [][]Button{c.button("whose-inside", "inside"), c.button("whose-loaded", "loaded"),
					c.button("back", "back")},
			}
		},
		taps: map[string]func(*talk){
			"inside": takeTyped(insideQuestion), "loaded": takeTyped(loadedQuestion),
			"back": func(c *talk) { c.goTo("review") },
		},
		what: "what.whose",
	}
}

// takeTyped gives counts that waited to the question they belong to.
func takeTyped(q question) func(*talk) {
	return func(c *talk) {
		typed := c.chosen("typed")
		delete(c.State.Draft.Choices, "typed")
		c.goTo(q.name)
		q.answer(c, typed)
	}
}
