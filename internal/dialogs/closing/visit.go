package closing

import (
	"maps"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/guides"
	"shopfloat/internal/incidents"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// visitDraft is what is kept of an engineer's visit beside figures.
type visitDraft struct {
	Reference string      `json:"reference,omitempty"`
	Before    count       `json:"before,omitzero"`
	Unpaid    bool        `json:"unpaid,omitempty"` // nobody knows what was paid out until then
	After     count       `json:"after,omitzero"`
	Touched   books.Place `json:"touched,omitempty"` // where the notes are that were handled
	Tests     books.Place `json:"tests,omitempty"`   // where those of the test payout are
	Paid      bool        `json:"paid,omitempty"`    // the machine counted them as paid out
}

func visit(c *engine.Talk) *visitDraft { return engine.Drafted[visitDraft](c) }

// The two counts of a visit, before anything is opened and after the work.
var (
	before = counting{left: "visit-left", tray: "visit-tray", intro: "before-count", head: "review.visit-before",
		of: func(c *engine.Talk) *count { return &visit(c).Before }, next: "visit-paid", without: "begin",
		stands: func(c *engine.Talk) bool { return underWay(c) != nil }}
	after = counting{left: "visit-after", tray: "visit-refuse", head: "review.visit-after", next: "touched",
		of: func(c *engine.Talk) *count { return &visit(c).After }, without: "touched"}
)

var (
	visitPaid = ask.Question{
		Stands: before.stands, Name: "visit-paid", Lines: ask.SlipLines, Money: true, Check: ask.CheckPaid,
		What: "what.visit-paid", LeftOut: "unpaid", Passed: func(c *engine.Talk) bool { return visit(c).Unpaid },
		Next:  to("begin"),
		Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-unknown", "skip")} },
		Taps: map[string]func(*engine.Talk){"skip": func(c *engine.Talk) {
			visit(c).Unpaid = true
			c.GoTo("begin")
		}},
	}
	touchedQuestion = ask.Question{
		Name: "touched", Lines: ask.KindLines, None: true, Partial: true, What: "what.visit-touched",
		Next: func(c *engine.Talk) string {
			asks := len(touched(c)) > 0 && visit(c).Touched == ""
			return texts.Either(asks, "where", "visit-tests")
		},
	}
	visitTests = ask.Question{
		Name: "visit-tests", Lines: ask.BoxLines, None: true, Partial: true, Check: ask.CheckFits,
		What: "what.tried",
		Next: func(c *engine.Talk) string {
			return texts.Either(len(testNotes(c)) > 0 && visit(c).Tests == "", "tests-where", "end")
		},
	}
)

// VisitFlow takes an engineer's visit from the door to the last count, so that
// a difference found later can be placed before, during or after it.
func VisitFlow() *engine.Flow {
	screens := before.all()
	maps.Copy(screens, after.all())
	maps.Copy(screens, visitScreens())
	return flow(engine.Flow{Name: engine.DoVisit, Title: "visit", Start: startVisit, Screens: screens,
		Draft: func() any { return &visitDraft{} }, Lasts: true, Safe: engine.SafeOpen, Company: engine.OneAtATime,
		Paper: engine.OffPaper, Stopped: ask.CountStays,
		Asks: append(append(before.asks(), visitPaid, touchedQuestion, visitTests), after.asks()...)},
		engine.Command{Name: engine.DoVisit, Takes: engine.AnyWords})
}

// visitScreens are those around the two counts.
func visitScreens() map[string]engine.Screen {
	return map[string]engine.Screen{
		"who": ask.Pick{Head: ask.Asking("ask.visitor"), Options: ask.Labelled("visit-", "announced", "unknown"),
			What: "what.visit-who", Take: func(c *engine.Talk, who string) {
				if c.GoTo("reference"); who == "unknown" {
					refuseVisit(c)
				}
			}}.Screen(),
		"reference": ask.Pick{Head: ask.Asking("ask.visit-reference"), Options: ask.Labelled("", "skip"),
			Take: func(c *engine.Talk, _ string) { beforeVisit(c) }, Answer: answerVisitReference,
			What: "what.visit-reference"}.Screen(),
		"visit-paid": ask.Blind(visitPaid.Screen()),
		"begin": ask.Blind(ask.Booking{Read: readVisitBegin, Book: beginVisit, Also: beforeAgain,
			What: "what.visit", Taps: map[string]func(*engine.Talk){"change": func(c *engine.Talk) {
				c.Unanswer("visit-paid")
				visit(c).Unpaid = false
				before.anew(c)
			}}}.Screen()),
		"work": ask.Pick{Head: ask.Asking("visit-work"), Options: ask.Labelled("visit-", "done"),
			What: "what.visit-work", Take: func(c *engine.Talk, _ string) { visitDone(c) }}.Screen(),
		"touched": ask.Blind(touchedQuestion.Screen()),
		"where": ask.Pick{Head: ask.Asking("ask.visit-where"), What: "what.visit-where",
			Options: ask.Labelled("where-", books.Boxes, books.Tray, books.Path),
			Take: func(c *engine.Talk, where string) {
				visit(c).Touched = books.Place(where)
				c.GoTo("visit-tests")
			}}.Screen(),
		"visit-tests": visitTests.Screen(),
		"tests-where": ask.TestPlace(func(c *engine.Talk, where books.Place) {
			visit(c).Tests = where
			c.GoTo("counted")
		}),
		"counted": ask.TestCounted(func(c *engine.Talk, paid bool) {
			visit(c).Paid = paid
			c.GoTo("end")
		}),
		"end": ask.Booking{Read: readVisitEnd, Book: endVisit, What: "what.visit",
			Other: ask.Instead{Label: "recount", Value: "change", Take: func(c *engine.Talk) {
				c.Unanswer("touched", "visit-tests")
				v := visit(c)
				v.Touched, v.Tests, v.Paid = "", "", false
				after.anew(c)
			}}}.Screen(),
	}
}

// underWay is today's visit whose end is missing, or nil: the count before it is
// recorded. One of another day is not gone on with.
func underWay(c *engine.Talk) *books.Call {
	if v := c.M.Visited(); v != nil && telling.SameDay(c.Local(v.Began), c.Local(c.In.At)) {
		return v
	}
	return nil
}

// touched are the notes that were handled.
func touched(c *engine.Talk) books.Notes {
	return lines.NotesOf(ask.KindLines(c), c.Counted("touched"))
}

// testNotes are those of a test payout.
func testNotes(c *engine.Talk) books.Notes {
	return lines.NotesOf(ask.BoxLines(c), c.Counted("visit-tests"))
}

// startVisit goes on with a visit whose end is missing, or asks who is there.
func startVisit(c *engine.Talk) {
	if v := underWay(c); v != nil {
		c.State.Draft.Period = v.Period
		c.GoTo("work")
		return
	}
	if p := c.M.Current(); p != nil {
		c.State.Draft.Period = p.No
	}
	c.GoTo("who")
}

// refuseVisit puts on record that somebody nobody knew of was sent away.
func refuseVisit(c *engine.Talk) {
	trade.Note(c, books.Record{Kind: books.VisitBegun, Period: c.State.Draft.Period,
		Marks: []books.Mark{books.TurnedAway}})
	c.Managers(chat.Lines(c.V.Say("told.visit-unknown", "who", c.F.Person.Name, "when", c.Clock(c.In.At))))
	set := incidents.GuideSettings(c.Teller)
	lines := incidents.CallLines(c.Teller, []guides.Call{
		{Contact: guides.Provider, Number: set.Number(guides.Provider)},
		{Contact: guides.Police, Number: set.Number(guides.Police)}})
	c.Close(chat.Lines(append([]string{c.V.Say("visit-refused")}, lines...)...))
}

func answerVisitReference(c *engine.Talk, s string) bool {
	ref, ok := incidents.ReadReference(s)
	if ok {
		visit(c).Reference = ref
		beforeVisit(c)
	}
	return ok
}

// beforeVisit goes to the count before anything is opened, if there is anything to count.
func beforeVisit(c *engine.Talk) {
	visit(c).Before.Skipped = ask.Target(c) == nil
	c.GoTo(texts.Either(visit(c).Before.Skipped, before.without, before.left))
}

// beforeAgain offers to count anew what was counted before.
func beforeAgain(c *engine.Talk) [][]chat.Button {
	if visit(c).Before.Skipped {
		return nil
	}
	return [][]chat.Button{c.Button("change", "change")}
}

func readVisitBegin(c *engine.Talk) []chat.Block {
	if visit(c).Before.Skipped {
		return []chat.Block{{Text: c.V.Say("review.visit-uncounted")}}
	}
	return before.read(c)
}

// beginVisit records the count before; only then anything is opened.
func beginVisit(c *engine.Talk) {
	v := visit(c)
	r := books.Record{Kind: books.VisitBegun, Period: c.State.Draft.Period, Figures: before.counted(c),
		Marks: []books.Mark{books.Announced}}
	if v.Reference != "" {
		r.Trouble = &books.Trouble{Reference: v.Reference}
	}
	switch {
	case v.Before.Skipped:
		r.Marks = append(r.Marks, books.Uncounted)
	case !v.Unpaid:
		r.Amounts = []books.Amount{{Field: books.Difference, Value: untilVisit(c).TotalVariance}}
	}
	if recorded(c, r) {
		c.First(c.V.Say("visit-begun", "when", c.Clock(c.When())))
		c.GoTo("work")
	}
}

// untilVisit reconciles the period as it stands when the engineer begins.
func untilVisit(c *engine.Talk) cashmath.Result {
	p, now := ask.Target(c), before.day(c)
	d := p.Day()
	paid, found := lines.NotesOf(ask.SlipLines(c), visitPaid.Values(c)), books.Notes{}
	paid.Add(books.Notes(d.Dispensed))
	for _, f := range p.Findings {
		if f.Where != books.Tray {
			found.Add(f.Notes)
		}
	}
	d.Dispensed, d.Remaining, d.Rejects = cashmath.Notes(paid), now.Remaining, now.Rejects
	d.Found = cashmath.Notes(found)
	return cashmath.Reconcile(d)
}

func visitDone(c *engine.Talk) {
	if ask.Target(c) == nil {
		endVisit(c)
		return
	}
	c.GoTo(after.left)
}

// endFigures gives the figures of the end of a visit: the count after, what was
// touched, and what left the boxes to a place that is not counted.
func endFigures(c *engine.Talk) []books.Figure {
	v, away := visit(c), books.Notes{}
	if v.Touched == books.Path {
		away.Add(touched(c))
	}
	if v.Tests == books.Cash || v.Tests == books.Till {
		away.Add(testNotes(c))
	}
	figs := append(after.counted(c), lines.FiguresOf(books.Touched, touched(c))...)
	return append(figs, lines.FiguresOf(books.Away, away)...)
}

func readVisitEnd(c *engine.Talk) []chat.Block {
	return append(after.read(c), chat.Lines(
		telling.HandledLine(c.Teller, "visit-touched", touched(c), visit(c).Touched),
		telling.HandledLine(c.Teller, "visit-tests", testNotes(c), visit(c).Tests), differenceLine(c)))
}

// differenceLine says what the two counts leave unexplained.
func differenceLine(c *engine.Talk) string {
	v := c.M.Visited()
	if v == nil || !v.Had || visit(c).After.Skipped {
		return c.V.Say("visit-not-compared")
	}
	return telling.VisitDifference(c.Teller, v.Between(endFigures(c)))
}

// endVisit records the count after, the test notes, and notes put aside.
func endVisit(c *engine.Talk) {
	v := c.M.Visited()
	if v == nil {
		c.Close(chat.Block{Text: c.V.Say("visit-over")})
		return
	}
	change := differenceLine(c)
	r := books.Record{Kind: books.VisitEnded, Period: v.Period, Target: v.Seq}
	p := ask.Target(c)
	if p != nil {
		r.Figures = endFigures(c)
	}
	if p == nil || visit(c).After.Skipped {
		r.Marks = append(r.Marks, books.Uncounted)
	}
	if !recorded(c, append([]books.Record{r}, handled(c, p)...)...) {
		return
	}
	if v := c.M.Call(v.Seq); v != nil && len(v.Change) > 0 {
		c.TellAbout(reminders.Noted,
			chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("told.visit", "who", c.F.Person.Name), change)}})
	}
	c.Close(chat.Lines(c.V.Say("visit-ended", "when", c.Clock(c.When())), change, c.Lock()))
}

// handled gives the records of a test payout and of notes put aside, while the period is open.
func handled(c *engine.Talk, p *books.Period) (list []books.Record) {
	if p == nil || p.Status != books.Open {
		return nil
	}
	v := visit(c)
	if len(testNotes(c)) > 0 {
		r := books.Record{Kind: books.Test, Period: p.No, Where: v.Tests,
			Figures: lines.Figures(books.Tried, ask.BoxLines(c), visitTests.Values(c), false)}
		if v.Paid {
			r.Marks = []books.Mark{books.Counted}
		}
		list = append(list, r)
	}
	if n := touched(c); len(n) > 0 && v.Touched == books.Path {
		list = append(list, books.Record{Kind: books.Found, Period: p.No, Where: books.Path,
			Figures: lines.FiguresOf(books.FoundAt, n)})
	}
	return list
}
