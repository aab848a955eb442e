package dialogs

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// testFlow records a test dispense.
func testFlow() *flow {
	return &flow{
		name: doTest, title: "test", start: startTest,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 5, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []question{triedQuestion},
		commands: []command{{name: doTest, does: startsDialog, help: helpMore, takes: onlyFigures, guided: true}},
		screens: map[string]screen{
			"tried":   triedQuestion.screen(),
			"counted": {ask: askCounted, taps: map[string]func(*talk){"yes": choice("counted", "yes", "where"), "no": choice("counted", "no", "where")}, typed: yesNo, what: "what.counted"},
			"where":   {ask: askWhere, tap: tapWhere, what: "what.where"},
			"review":  {ask: askTestReview, taps: map[string]func(*talk){"confirm": tapTest, "change": changeTest}, what: "what.review"},
		},
	}
}

var triedQuestion = question{
	name: "tried", lines: boxLines, partial: true, check: checkFits, what: "what.tried",
	next:  func(*talk) string { return "counted" },
	extra: func(c *talk) [][]Button { return [][]Button{c.button("one-each", "one-each")} },
	taps: map[string]func(*talk){"one-each": func(c *talk) {
		v := make([]int64, len(c.boxes()))
		for i := range v {
			v[i] = 1
		}
		c.put("tried", v)
	}},
}

// choice makes a tap that remembers an answer and goes on.
func choice(name, value, next string) func(*talk) {
	return func(c *talk) {
		c.choose(name, value)
		c.goTo(next)
	}
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

func askWhere(c *talk) *card {
	k := &card{body: []Block{{Text: c.v.Say("ask.where")}}}
	for _, p := range testPlaces {
		k.buttons = append(k.buttons, c.button("where-"+string(p), string(p)))
	}
	return k
}

func tapWhere(c *talk, choice string) bool {
	for _, p := range testPlaces {
		if string(p) == choice {
			c.choose("where", choice)
			c.goTo("review")
			return true
		}
	}
	return false
}

func askTestReview(c *talk) *card {
	shown, n := someLines(boxLines(c), triedQuestion.values(c))
	if len(n) == 0 {
		delete(c.State.Draft.Counts, "tried")
		c.first(c.v.Say("nothing-typed"))
		c.goTo("tried")
		return nil
	}
	table, _ := c.countTable(shown, n)
	k := &card{body: []Block{{Text: c.v.Say("review.test")}, table, text(
		c.v.Say("review.counted-"+c.chosen("counted")), c.v.Say("review.where", "where", c.v.Say("place."+c.chosen("where"))),
		c.v.Say("right"))}}
	k.buttons = [][]Button{c.button("confirm", "confirm"), c.button("change", "change")}
	return k
}

func changeTest(c *talk) {
	delete(c.State.Draft.Counts, "tried")
	c.goTo("tried")
}

func tapTest(c *talk) {
	if c.overtaken() {
		return
	}
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
		name: doFound, title: "found", start: startFound,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 7, loses: losesCounts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []question{pickedQuestion},
		commands: []command{{name: doFound, does: startsDialog, help: helpMore, takes: onlyFigures}},
		screens: map[string]screen{
			"picked": pickedQuestion.screen(),
			"where":  {ask: askFoundWhere, taps: map[string]func(*talk){"tray": choice("where", "tray", "review"), "path": choice("where", "path", "review")}, what: "what.found-where"},
			"review": {ask: askFoundReview, taps: map[string]func(*talk){"confirm": tapFound, "change": changeFound}, what: "what.review"},
		},
	}
}

var pickedQuestion = question{
	name: "picked", lines: kindLines, intro: "before-found", partial: true, what: "what.found",
	next: func(*talk) string { return "where" },
}

func startFound(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("picked")
	c.take(pickedQuestion)
}

func askFoundWhere(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("ask.found-where")}},
		buttons: [][]Button{c.button("where-tray", "tray"), c.button("where-path", "path")}}
}

func (c *talk) picked() books.Notes {
	n := books.Notes{}
	for i, l := range kindLines(c) {
		n.Plus(l.face, max(pickedQuestion.values(c)[i], 0))
	}
	return n
}

func askFoundReview(c *talk) *card {
	n := c.picked()
	if len(n) == 0 {
		changeFound(c)
		return nil
	}
	return &card{
		body: []Block{text(c.v.Say("review.found", "notes", c.notes(n)),
			c.v.Say("review.where", "where", c.v.Say("place."+c.chosen("where"))), c.v.Say("right"))},
		buttons: [][]Button{c.button("confirm", "confirm"), c.button("change", "change")},
	}
}

func changeFound(c *talk) {
	delete(c.State.Draft.Counts, "picked")
	c.goTo("picked")
}

func tapFound(c *talk) {
	if c.overtaken() {
		return
	}
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
