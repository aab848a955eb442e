package trouble

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
)

// VisitFlow takes an engineer's visit from the door to the last count, so that
// a difference found later can be placed before, during or after it.
func VisitFlow() *engine.Flow {
	screens := map[string]engine.Screen{
		"who": {Ask: askVisitor, What: "what.visit-who", Taps: map[string]func(*engine.Talk){
			"announced": func(c *engine.Talk) { c.GoTo("reference") }, "unknown": refuseVisit}},
		"reference": {Ask: askVisitReference, Answer: answerVisitReference, What: "what.visit-reference",
			Taps: map[string]func(*engine.Talk){"skip": func(c *engine.Talk) { c.GoTo(beforeVisit(c)) }}},
		"visit-left": ask.Blind(visitLeft.Screen()),
		"visit-tray": ask.Blind(visitTray.Screen()),
		"visit-paid": ask.Blind(visitPaid.Screen()),
		"begin": ask.Blind(engine.Screen{Ask: askVisitBegin, What: "what.visit",
			Taps: map[string]func(*engine.Talk){"confirm": ask.UnlessOvertaken(beginVisit),
				"change": engine.Anew("visit-left", "visit-left", "visit-tray", "visit-paid", "unpaid")}}),
		"work": {Ask: askVisitWork, What: "what.visit-work",
			Taps: map[string]func(*engine.Talk){"done": visitDone}},
		"visit-after":  ask.Blind(visitAfter.Screen()),
		"visit-refuse": ask.Blind(visitRefuse.Screen()),
		"touched":      ask.Blind(touchedQuestion.Screen()),
		"where": ask.Pick{Head: ask.Asking("ask.visit-where"), Options: ask.Labelled("where-", touchedPlaces...),
			Take: engine.Remembered("touched-where", "visit-tests"), What: "what.visit-where"}.Screen(),
		"visit-tests": visitTests.Screen(),
		"tests-where": ask.WhereScreen("tests-where", "counted"),
		"counted": {Ask: ask.AskCounted, Typed: ask.YesNo, What: "what.counted",
			Taps: map[string]func(*engine.Talk){
				"yes": ask.Choice("counted", "yes", "end"),
				"no": ask.Choice("counted", "no",
					"end"),
			}},
		"end": ask.Booking{Read: readVisitEnd, Book: endVisit, What: "what.visit",
			Other: ask.Instead{
				Label: "recount",
				Value: "change",
				Take: engine.Anew("visit-after", "visit-after", "visit-refuse", "touched",
					"visit-tests", "uncounted-after", "touched-where", "tests-where", "counted"),
			}}.Screen(),
	}
	return &engine.Flow{
		Name: engine.DoVisit, Title: "visit", Version: 1, Start: startVisit, Screens: screens,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesCounts, Stopped: ask.CountStays,
		Lasts:  true,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Asks: []engine.Asked{
			visitLeft,
			visitTray,
			visitPaid,
			touchedQuestion,
			visitTests,
			visitAfter,
			visitRefuse,
		},
		Commands: []engine.Command{
			{Name: engine.DoVisit, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
	}
}

var (
	visitLeft = ask.Question{
		Stands: beforeKept, Name: "visit-left", Lines: ask.BoxLines, Intro: "before-count", Check: ask.CheckFits,
		What: "what.left",
		Next: func(*engine.Talk) string { return "visit-tray" },
		Extra: func(c *engine.Talk) [][]chat.Button {
			return [][]chat.Button{c.Button("visit-uncounted",
				"uncounted")}
		},
		Taps: map[string]func(*engine.Talk){"uncounted": ask.Choice("uncounted", "yes", "begin")},
	}
	visitTray = ask.Question{
		Stands: beforeKept, Name: "visit-tray", Lines: ask.KindLines, None: true, Partial: true, What: "what.tray",
		Next: func(*engine.Talk) string { return "visit-paid" },
	}
	visitPaid = ask.Question{
		Stands: beforeKept, Name: "visit-paid", Lines: ask.KindLines, Money: true, Check: ask.CheckPaid,
		What: "what.visit-paid", LeftOut: "unpaid",
		Next:  func(*engine.Talk) string { return "begin" },
		Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-unknown", "skip")} },
		Taps:  map[string]func(*engine.Talk){"skip": ask.Choice("unpaid", "yes", "begin")},
	}
	visitAfter = ask.Question{
		Name: "visit-after", Lines: ask.BoxLines, Check: ask.CheckFits, What: "what.left",
		Next: func(*engine.Talk) string { return "visit-refuse" },
		Extra: func(c *engine.Talk) [][]chat.Button {
			return [][]chat.Button{c.Button("visit-uncounted",
				"uncounted")}
		},
		Taps: map[string]func(*engine.Talk){"uncounted": ask.Choice("uncounted-after", "yes", "touched")},
	}
	visitRefuse = ask.Question{
		Name: "visit-refuse", Lines: ask.KindLines, None: true, Partial: true, What: "what.tray",
		Next: func(*engine.Talk) string { return "touched" },
	}
	touchedQuestion = ask.Question{
		Name: "touched", Lines: ask.KindLines, None: true, Partial: true, What: "what.visit-touched",
		Next: func(c *engine.Talk) string {
			if len(asked(c, touchedQuestionName)) > 0 && c.Chosen("touched-where") == "" {
				return "where"
			}
			return "visit-tests"
		},
	}
	visitTests = ask.Question{
		Name: "visit-tests", Lines: ask.BoxLines, None: true, Partial: true, Check: ask.CheckFits,
		What: "what.tried",
		Next: func(c *engine.Talk) string {
			if len(testNotes(c)) > 0 && c.Chosen("tests-where") == "" {
				return "tests-where"
			}
			return "end"
		},
	}
)

// beforeKept: the count before is recorded once the work has begun.
func beforeKept(c *engine.Talk) bool {
	v := c.M.Visited()
	return v != nil && engine.SameDay(c.Local(v.Began), c.Local(c.In.At))
}

const touchedQuestionName = "touched"

// asked adds up the counts of a question about kinds of note.
func asked(c *engine.Talk, name string) books.Notes {
	n, v := books.Notes{}, c.Counted(name)
	for i, l := range ask.KindLines(c) {
		if i < len(v) {
			n.Plus(l.Face, max(v[i], 0))
		}
	}
	return n
}

// testNotes adds up the notes of a test payout in the draft.
func testNotes(c *engine.Talk) books.Notes {
	n, v := books.Notes{}, c.Counted("visit-tests")
	for i, l := range ask.BoxLines(c) {
		if i < len(v) {
			n.Plus(l.Face, max(v[i], 0))
		}
	}
	return n
}

// startVisit goes on with a visit whose end is missing, or asks who is there.
func startVisit(c *engine.Talk) {
	if v := c.M.Visited(); v != nil && engine.SameDay(c.Local(v.Began), c.Local(c.In.At)) {
		c.State.Draft.Period = v.Period
		c.GoTo("work")
		return
	}
	if p := c.M.Current(); p != nil {
		c.State.Draft.Period = p.No
	}
	c.GoTo("who")
}

func askVisitor(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.visitor")}},
		Buttons: [][]chat.Button{c.Button("visit-announced", "announced"), c.Button("visit-unknown", "unknown")}}
}

// refuseVisit puts on record that somebody nobody knew of was sent away.
func refuseVisit(c *engine.Talk) {
	note(c, books.Record{Kind: books.VisitBegun, Period: c.State.Draft.Period,
		Marks: []books.Mark{books.TurnedAway}})
	set := guideSettings(c)
	calls := []guides.Call{{Contact: guides.Provider, Number: set.Number(guides.Provider)},
		{Contact: guides.Police, Number: set.Number(guides.Police)}}
	c.Managers(engine.Text(c.V.Say("told.visit-unknown", "who", c.F.Person.Name, "when", c.Clock(c.In.At))))
	c.Close(engine.Text(append([]string{c.V.Say("visit-refused")}, callLines(c, calls)...)...))
}

func askVisitReference(c *engine.Talk) *engine.Card {
	return &engine.Card{
		Body: []chat.Block{{Text: c.V.Say("ask.visit-reference")}},
		Buttons: [][]chat.Button{c.Button("skip",
			"skip")},
	}
}

func answerVisitReference(c *engine.Talk, s string) bool {
	ref := strings.ToUpper(strings.Join(strings.Fields(s), " "))
	if len(ref) > referenceMax || !referring(ref) || !strings.ContainsAny(ref, "0123456789") {
		return false
	}
	c.Choose("reference", ref)
	c.GoTo(beforeVisit(c))
	return true
}

// beforeVisit is the first screen of the count before anything is opened.
func beforeVisit(c *engine.Talk) string {
	if ask.Target(c) == nil {
		c.Choose("uncounted", "yes")
		return "begin"
	}
	return "visit-left"
}

// visitFigures gives the figures of a count before or after the work.
func visitFigures(c *engine.Talk, left, tray ask.Question) []books.Figure {
	return append(ask.BoxFigures(books.Remaining, ask.BoxLines(c), left.Values(c), true),
		ask.BoxFigures(books.Refused, ask.KindLines(c), tray.Values(c), false)...)
}

func askVisitBegin(c *engine.Talk) *engine.Card {
	k := &engine.Card{Buttons: [][]chat.Button{c.Button("confirm", "confirm")}}
	if c.Chosen("uncounted") != "" {
		k.Body = []chat.Block{engine.Text(c.V.Say("review.visit-uncounted"), c.V.Say("right"))}
		return k
	}
	table, _ := ask.CountTable(c, ask.BoxLines(c), visitLeft.Values(c))
	k.Body = []chat.Block{{Text: c.V.Say("review.visit-before")}, table, engine.Text(trayLine(c, "visit-tray"),
		c.V.Say("right"))}
	k.Buttons = append(k.Buttons, c.Button("change", "change"))
	return k
}

// trayLine says what is in the box for refused notes.
func trayLine(c *engine.Talk, name string) string {
	if n := asked(c, name); len(n) > 0 {
		return c.V.Say("review.tray", "notes", ask.Notes(c, n))
	}
	return c.V.Say("review.tray-empty")
}

// beginVisit records the count before; only then anything is opened.
func beginVisit(c *engine.Talk) {
	r := books.Record{Kind: books.VisitBegun, Period: c.State.Draft.Period, Marks: []books.Mark{books.Announced}}
	if ref := c.Chosen("reference"); ref != "" {
		r.Trouble = &books.Trouble{Reference: ref}
	}
	if c.Chosen("uncounted") != "" {
		r.Marks = append(r.Marks, books.Uncounted)
	} else {
		r.Figures = visitFigures(c, visitLeft, visitTray)
		if c.Chosen("unpaid") == "" {
			r.Amounts = []books.Amount{{Field: books.Difference, Value: untilVisit(c, r.Figures).TotalVariance}}
		}
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	c.First(c.V.Say("visit-begun", "when", c.Clock(c.When())))
	c.GoTo("work")
}

// untilVisit reconciles the period as it stands when the engineer begins.
func untilVisit(c *engine.Talk, figs []books.Figure) cashmath.Result {
	d := ask.Target(c).Day()
	paid := books.Notes{}
	paid.Add(books.Notes(d.Dispensed))
	for i, l := range ask.KindLines(c) {
		paid.Plus(l.Face, max(visitPaid.Values(c)[i], 0))
	}
	d.Dispensed = cashmath.Notes(paid)
	d.Remaining = cashmath.Notes(ask.NotesIn(figs, books.Remaining))
	d.Rejects = cashmath.Notes(ask.NotesIn(figs, books.Refused))
	found := books.Notes{}
	for _, f := range ask.Target(c).Findings {
		if f.Where != books.Tray {
			found.Add(f.Notes)
		}
	}
	d.Found = cashmath.Notes(found)
	return cashmath.Reconcile(d)
}

func askVisitWork(c *engine.Talk) *engine.Card {
	return &engine.Card{
		Body: []chat.Block{{Text: c.V.Say("visit-work")}},
		Buttons: [][]chat.Button{c.Button("visit-done",
			"done")},
	}
}

func visitDone(c *engine.Talk) {
	if ask.Target(c) == nil {
		endVisit(c)
		return
	}
	c.GoTo("visit-after")
}

// touchedPlaces are where notes an engineer handled can lie.
var touchedPlaces = []books.Place{books.Boxes, books.Tray, books.Path}
