package dialogs

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/guides"
)

// visitFlow takes an engineer's visit from the door to the last count, so that
// a difference found later can be placed before, during or after it.
func visitFlow() *flow {
	screens := map[string]screen{
		"who": {ask: askVisitor, what: "what.visit-who", taps: map[string]func(*talk){
			"announced": func(c *talk) { c.goTo("reference") }, "unknown": refuseVisit}},
		"reference": {ask: askVisitReference, answer: answerVisitReference, what: "what.visit-reference",
			taps: map[string]func(*talk){"skip": func(c *talk) { c.goTo(c.beforeVisit()) }}},
		"visit-left": blind(visitLeft.screen()),
		"visit-tray": blind(visitTray.screen()),
		"visit-paid": blind(visitPaid.screen()),
		"begin": blind(screen{ask: askVisitBegin, what: "what.visit",
			taps: map[string]func(*talk){"confirm": unlessOvertaken(beginVisit),
				"change": anew("visit-left", "visit-left", "visit-tray", "visit-paid", "unpaid")}}),
		"work": {ask: askVisitWork, what: "what.visit-work",
			taps: map[string]func(*talk){"done": visitDone}},
		"visit-after":  blind(visitAfter.screen()),
		"visit-refuse": blind(visitRefuse.screen()),
		"touched":      blind(touchedQuestion.screen()),
		"where": pick{head: asking("ask.visit-where"), options: labelled("where-", touchedPlaces...),
			take: remembered("touched-where", "visit-tests"), what: "what.visit-where"}.screen(),
		"visit-tests": visitTests.screen(),
		"tests-where": whereScreen("tests-where", "counted"),
		"counted": {ask: askCounted, typed: yesNo, what: "what.counted",
			taps: map[string]func(*talk){"yes": choice("counted", "yes", "end"), "no": choice("counted", "no",
				"end")}},
		"end": booking{read: readVisitEnd, book: endVisit, what: "what.visit",
			other: instead{"recount", "change", anew("visit-after", "visit-after", "visit-refuse", "touched",
				"visit-tests", "uncounted-after", "touched-where", "tests-where", "counted")}}.screen(),
	}
	return &flow{
		name: doVisit, title: "visit", version: 1, start: startVisit, screens: screens,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesCounts, stopped: countStays,
		lasts:    true,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{visitLeft, visitTray, visitPaid, touchedQuestion, visitTests, visitAfter, visitRefuse},
		commands: []command{{name: doVisit, does: startsDialog, help: helpMore, takes: anyWords}},
	}
}

var (
	visitLeft = question{
		stands: beforeKept, name: "visit-left", lines: boxLines, intro: "before-count", check: checkFits, what: "what.left",
		next:  func(*talk) string { return "visit-tray" },
		extra: func(c *talk) [][]Button { return [][]Button{c.button("visit-uncounted", "uncounted")} },
		taps:  map[string]func(*talk){"uncounted": choice("uncounted", "yes", "begin")},
	}
	visitTray = question{
		stands: beforeKept, name: "visit-tray", lines: kindLines, none: true, partial: true, what: "what.tray",
		next: func(*talk) string { return "visit-paid" },
	}
	visitPaid = question{
		stands: beforeKept, name: "visit-paid", lines: kindLines, money: true, check: checkPaid, what: "what.visit-paid", leftOut: "unpaid",
		next:  func(*talk) string { return "begin" },
		extra: func(c *talk) [][]Button { return [][]Button{c.button("skip-unknown", "skip")} },
		taps:  map[string]func(*talk){"skip": choice("unpaid", "yes", "begin")},
	}
	visitAfter = question{
		name: "visit-after", lines: boxLines, check: checkFits, what: "what.left",
		next:  func(*talk) string { return "visit-refuse" },
		extra: func(c *talk) [][]Button { return [][]Button{c.button("visit-uncounted", "uncounted")} },
		taps:  map[string]func(*talk){"uncounted": choice("uncounted-after", "yes", "touched")},
	}
	visitRefuse = question{
		name: "visit-refuse", lines: kindLines, none: true, partial: true, what: "what.tray",
		next: func(*talk) string { return "touched" },
	}
	touchedQuestion = question{
		name: "touched", lines: kindLines, none: true, partial: true, what: "what.visit-touched",
		next: func(c *talk) string {
			if len(c.asked(touchedQuestionName)) > 0 && c.chosen("touched-where") == "" {
				return "where"
			}
			return "visit-tests"
		},
	}
	visitTests = question{
		name: "visit-tests", lines: boxLines, none: true, partial: true, check: checkFits, what: "what.tried",
		next: func(c *talk) string {
			if len(c.testNotes()) > 0 && c.chosen("tests-where") == "" {
				return "tests-where"
			}
			return "end"
		},
	}
)

// beforeKept: the count before is recorded once the work has begun.
func beforeKept(c *talk) bool {
	v := c.m.Visited()
	return v != nil && sameDay(c.local(v.Began), c.local(c.in.At))
}

const touchedQuestionName = "touched"

// asked adds up the counts of a question about kinds of note.
func (c *talk) asked(name string) books.Notes {
	n, v := books.Notes{}, c.State.Draft.Counts[name]
	for i, l := range kindLines(c) {
		if i < len(v) {
			n.Plus(l.face, max(v[i], 0))
		}
	}
	return n
}

// testNotes adds up the notes of a test payout in the draft.
func (c *talk) testNotes() books.Notes {
	n, v := books.Notes{}, c.State.Draft.Counts["visit-tests"]
	for i, l := range boxLines(c) {
		if i < len(v) {
			n.Plus(l.face, max(v[i], 0))
		}
	}
	return n
}

// startVisit goes on with a visit whose end is missing, or asks who is there.
func startVisit(c *talk) {
	if v := c.m.Visited(); v != nil && sameDay(c.local(v.Began), c.local(c.in.At)) {
		c.State.Draft.Period = v.Period
		c.goTo("work")
		return
	}
	if p := c.m.Current(); p != nil {
		c.State.Draft.Period = p.No
	}
	c.goTo("who")
}

func askVisitor(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("ask.visitor")}},
		buttons: [][]Button{c.button("visit-announced", "announced"), c.button("visit-unknown", "unknown")}}
}

// refuseVisit puts on record that somebody nobody knew of was sent away.
func refuseVisit(c *talk) {
	c.note(books.Record{Kind: books.VisitBegun, Period: c.State.Draft.Period,
		Marks: []books.Mark{books.TurnedAway}})
	set := c.guideSettings()
	calls := []guides.Call{{Contact: guides.Provider, Number: set.Number(guides.Provider)},
		{Contact: guides.Police, Number: set.Number(guides.Police)}}
	c.managers(text(c.v.Say("told.visit-unknown", "who", c.f.Person.Name, "when", c.clock(c.in.At))))
	c.close(text(append([]string{c.v.Say("visit-refused")}, c.callLines(calls)...)...))
}

func askVisitReference(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("ask.visit-reference")}}, buttons: [][]Button{c.button("skip",
		"skip")}}
}

func answerVisitReference(c *talk, s string) bool {
	ref := strings.ToUpper(strings.Join(strings.Fields(s), " "))
	if len(ref) > referenceMax || !referring(ref) || !strings.ContainsAny(ref, "0123456789") {
		return false
	}
	c.choose("reference", ref)
	c.goTo(c.beforeVisit())
	return true
}

// beforeVisit is the first screen of the count before anything is opened.
func (c *talk) beforeVisit() string {
	if c.target() == nil {
		c.choose("uncounted", "yes")
		return "begin"
	}
	return "visit-left"
}

// visitFigures gives the figures of a count before or after the work.
func (c *talk) visitFigures(left, tray question) []books.Figure {
	return append(boxFigures(books.Remaining, boxLines(c), left.values(c), true),
		boxFigures(books.Refused, kindLines(c), tray.values(c), false)...)
}

func askVisitBegin(c *talk) *card {
	k := &card{buttons: [][]Button{c.button("confirm", "confirm")}}
	if c.chosen("uncounted") != "" {
		k.body = []Block{text(c.v.Say("review.visit-uncounted"), c.v.Say("right"))}
		return k
	}
	table, _ := c.countTable(boxLines(c), visitLeft.values(c))
	k.body = []Block{{Text: c.v.Say("review.visit-before")}, table, text(c.trayLine("visit-tray"),
		c.v.Say("right"))}
	k.buttons = append(k.buttons, c.button("change", "change"))
	return k
}

// trayLine says what is in the box for refused notes.
func (c *talk) trayLine(name string) string {
	if n := c.asked(name); len(n) > 0 {
		return c.v.Say("review.tray", "notes", c.notes(n))
	}
	return c.v.Say("review.tray-empty")
}

// beginVisit records the count before; only then anything is opened.
func beginVisit(c *talk) {
	r := books.Record{Kind: books.VisitBegun, Period: c.State.Draft.Period, Marks: []books.Mark{books.Announced}}
	if ref := c.chosen("reference"); ref != "" {
		r.Trouble = &books.Trouble{Reference: ref}
	}
	if c.chosen("uncounted") != "" {
		r.Marks = append(r.Marks, books.Uncounted)
	} else {
		r.Figures = c.visitFigures(visitLeft, visitTray)
		if c.chosen("unpaid") == "" {
			r.Amounts = []books.Amount{{Field: books.Difference, Value: c.untilVisit(r.Figures).TotalVariance}}
		}
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.first(c.v.Say("visit-begun", "when", c.clock(c.when())))
	c.goTo("work")
}

// untilVisit reconciles the period as it stands when the engineer begins.
func (c *talk) untilVisit(figs []books.Figure) cashmath.Result {
	d := c.target().Day()
	paid := books.Notes{}
	paid.Add(books.Notes(d.Dispensed))
	for i, l := range kindLines(c) {
		paid.Plus(l.face, max(visitPaid.values(c)[i], 0))
	}
	d.Dispensed = cashmath.Notes(paid)
	d.Remaining = cashmath.Notes(notesIn(figs, books.Remaining))
	d.Rejects = cashmath.Notes(notesIn(figs, books.Refused))
	found := books.Notes{}
	for _, f := range c.target().Findings {
		if f.Where != books.Tray {
			found.Add(f.Notes)
		}
	}
	d.Found = cashmath.Notes(found)
	return cashmath.Reconcile(d)
}

func askVisitWork(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("visit-work")}}, buttons: [][]Button{c.button("visit-done",
		"done")}}
}

func visitDone(c *talk) {
	if c.target() == nil {
		endVisit(c)
		return
	}
	c.goTo("visit-after")
}

// touchedPlaces are where notes an engineer handled can lie.
var touchedPlaces = []books.Place{books.Boxes, books.Tray, books.Path}
