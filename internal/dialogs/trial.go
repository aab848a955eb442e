package dialogs

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// testFlow records a test dispense.
func testFlow() *flow {
	return &flow{
		name: doTest, title: "test", version: 1, start: startTest,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 5, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{triedQuestion},
		commands: []command{{name: doTest, does: startsDialog, help: helpMore, takes: onlyFigures, guided: true}},
		screens: map[string]screen{
			"tried":   triedQuestion.screen(),
			"counted": {ask: askCounted, taps: map[string]func(*talk){"yes": choice("counted", "yes", "where"), "no": choice("counted", "no", "where")}, typed: yesNo, what: "what.counted"},
			"where":   whereScreen("where", "review"),
			"review": booking{read: readTest, book: bookTest, answer: typedCounts(only(triedQuestion)),
				other: changes(anew("tried", "tried", "counted", "where"))}.screen(),
		},
	}
}

var triedQuestion = question{
	name: "tried", lines: boxLines, partial: true, check: checkFits, what: "what.tried",
	next:  unasked("counted", "where"),
	extra: func(c *talk) [][]Button { return [][]Button{c.button("one-each", "one-each")} },
	taps: map[string]func(*talk){"one-each": func(c *talk) {
		v := make([]int64, len(c.boxes()))
		for i := range v {
			v[i] = 1
		}
		c.put("tried", v)
	}},
}

func startTest(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("tried")
	c.take(triedQuestion)
}

func askCounted(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("ask.counted")}},
		buttons: [][]Button{c.button("yes", "yes"), c.button("no", "no")}}
}

// testPlaces are where test notes can have gone.
var testPlaces = []books.Place{books.Tray, books.Boxes, books.Cash, books.Till}

// whereScreen asks where test notes are.
func whereScreen(name, next string) screen {
	return pick{head: asking("ask.where"), options: labelled("where-", testPlaces...),
		take: remembered(name, next), what: "what.where"}.screen()
}

func readTest(c *talk) []Block {
	shown, n := c.some(triedQuestion)
	if len(n) == 0 {
		return nil
	}
	table, _ := c.countTable(shown, n)
	return []Block{{Text: c.v.Say("review.test")}, table,
		text(c.v.Say("review.counted-"+c.chosen("counted")), c.whereLine())}
}

// whereLine says where notes were put.
func (c *talk) whereLine() string {
	return c.v.Say("review.where", "where", c.v.Say("place."+c.chosen("where")))
}

func bookTest(c *talk) {
	r := books.Record{Kind: books.Test, Period: c.target().No, Where: books.Place(c.chosen("where")),
		Figures: boxFigures(books.Tried, boxLines(c), triedQuestion.values(c), false)}
	if c.chosen("counted") == "yes" {
		r.Marks = []books.Mark{books.Counted}
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.close(text(c.v.Say("tested", "when", c.clock(c.when())), c.lock()))
}

// foundFlow records notes found on the way of the notes, after a jam.
func foundFlow() *flow {
	return &flow{
		name: doFound, title: "found", version: 1, start: startFound,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 7, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{pickedQuestion},
		commands: []command{{name: doFound, does: startsDialog, help: helpMore, takes: onlyFigures}},
		screens: map[string]screen{
			"picked": pickedQuestion.screen(),
			"where": pick{head: asking("ask.found-where"), options: labelled("where-", books.Tray, books.Path),
				take: remembered("where", "review"), what: "what.found-where"}.screen(),
			"review": booking{read: readFound, book: bookFound, answer: typedCounts(only(pickedQuestion)),
				other: changes(anew("picked", "picked", "where"))}.screen(),
		},
	}
}

var pickedQuestion = question{
	name: "picked", lines: kindLines, intro: "before-found", partial: true, what: "what.found",
	next: unasked("where"),
}

func startFound(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("picked")
	c.take(pickedQuestion)
}

func (c *talk) picked() books.Notes {
	n := books.Notes{}
	for i, l := range kindLines(c) {
		n.Plus(l.face, max(pickedQuestion.values(c)[i], 0))
	}
	return n
}

func readFound(c *talk) []Block {
	if _, n := c.some(pickedQuestion); len(n) == 0 {
		return nil
	}
	return []Block{text(c.v.Say("review.found", "notes", c.notes(c.picked())), c.whereLine())}
}

func bookFound(c *talk) {
	n := c.picked()
	r := books.Record{Kind: books.Found, Period: c.target().No, Where: books.Place(c.chosen("where"))}
	for _, f := range n.Faces() {
		r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: n[f]})
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.close(text(c.v.Say("found-recorded", "notes", c.notes(n), "when", c.clock(c.when())), c.lock()))
}
