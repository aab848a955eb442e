package dialogs

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// endFigures gives the figures of the end of a visit: the count after, what was
// touched, and what left the boxes to a place that is not counted.
func (c *talk) endFigures() []books.Figure {
	var figs []books.Figure
	if c.chosen("uncounted-after") == "" {
		figs = c.visitFigures(visitAfter, visitRefuse)
	}
	touched := c.asked(touchedQuestionName)
	for _, f := range touched.Faces() {
		figs = append(figs, books.Figure{Field: books.Touched, Face: f, Notes: touched[f]})
	}
	away := books.Notes{}
	if books.Place(c.chosen("touched-where")) == books.Path {
		away.Add(touched)
	}
	if p := books.Place(c.chosen("tests-where")); p == books.Cash || p == books.Till {
		away.Add(c.testNotes())
	}
	for _, f := range away.Faces() {
		figs = append(figs, books.Figure{Field: books.Away, Face: f, Notes: away[f]})
	}
	return figs
}

func readVisitEnd(c *talk) []Block {
	body := []Block{{Text: c.v.Say("review.visit-after")}}
	if c.chosen("uncounted-after") == "" {
		table, _ := c.countTable(boxLines(c), visitAfter.values(c))
		body = append(body, table, text(c.trayLine("visit-refuse")))
	}
	return append(body, text(c.touchedLine(), c.testsLine(), c.differenceLine()))
}

func (c *talk) touchedLine() string {
	n := c.asked(touchedQuestionName)
	if len(n) == 0 {
		return ""
	}
	return c.v.Say("visit-touched", "notes", c.notes(n), "where", c.v.Say("place."+c.chosen("touched-where")))
}

func (c *talk) testsLine() string {
	n := c.testNotes()
	if len(n) == 0 {
		return ""
	}
	return c.v.Say("visit-tests", "notes", c.notes(n), "where", c.v.Say("place."+c.chosen("tests-where")))
}

// differenceLine says what the two counts leave unexplained.
func (c *talk) differenceLine() string {
	v := c.m.Visited()
	if v == nil || !v.Had || c.chosen("uncounted-after") != "" {
		return c.v.Say("visit-not-compared")
	}
	change := v.Between(c.endFigures())
	if len(change) == 0 {
		return c.v.Say("visit-fits")
	}
	more, fewer := books.Notes{}, books.Notes{}
	for f, n := range change {
		more.Plus(f, max(n, 0))
		fewer.Plus(f, max(-n, 0))
	}
	switch {
	case len(fewer) == 0:
		return c.v.Say("visit-more", "notes", c.notes(more))
	case len(more) == 0:
		return c.v.Say("visit-fewer", "notes", c.notes(fewer))
	}
	return c.v.Say("visit-both", "fewer", c.notes(fewer), "more", c.notes(more))
}

// endVisit records the count after, the test notes, and notes put aside.
func endVisit(c *talk) {
	v := c.m.Visited()
	if v == nil {
		c.close(Block{Text: c.v.Say("visit-over")})
		return
	}
	change := c.differenceLine()
	r := books.Record{Kind: books.VisitEnded, Period: v.Period, Target: v.Seq}
	p := c.target()
	if p != nil {
		r.Figures = c.endFigures()
	}
	if p == nil || c.chosen("uncounted-after") != "" {
		r.Marks = append(r.Marks, books.Uncounted)
	}
	records := []books.Record{r}
	if p != nil && p.Status == books.Open {
		records = append(records, c.handled(p)...)
	}
	for _, r := range records {
		if _, err := c.record(r); err != nil {
			c.refuse(err)
			return
		}
	}
	if v := c.m.Call(v.Seq); v != nil && len(v.Change) > 0 {
		c.managers(text(c.v.Say("told.visit", "who", c.f.Person.Name), change))
	}
	c.close(text(c.v.Say("visit-ended", "when", c.clock(c.when())), change, c.lock()))
}

// handled gives the records of a test payout and of notes put aside.
func (c *talk) handled(p *books.Period) []books.Record {
	var list []books.Record
	if len(c.testNotes()) > 0 {
		r := books.Record{Kind: books.Test, Period: p.No, Where: books.Place(c.chosen("tests-where")),
			Figures: boxFigures(books.Tried, boxLines(c), visitTests.values(c), false)}
		if c.chosen("counted") == "yes" {
			r.Marks = []books.Mark{books.Counted}
		}
		list = append(list, r)
	}
	if n := c.asked(touchedQuestionName); len(n) > 0 && books.Place(c.chosen("touched-where")) == books.Path {
		r := books.Record{Kind: books.Found, Period: p.No, Where: books.Path}
		for _, f := range n.Faces() {
			r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: n[f]})
		}
		list = append(list, r)
	}
	return list
}

// placed says what part of a period's difference arose before, during and after
// the engineers' visits in it.
func (c *talk) placed(p *books.Period, total decimal.Decimal) string {
	var lines []string
	for _, v := range c.m.Calls {
		if v.Period != p.No || v.Ended.IsZero() || total.IsZero() && v.Change.Value().IsZero() {
			continue
		}
		fill := []any{"when", c.clock(v.Began), "during", c.signedMoney(v.Change.Value())}
		switch {
		case !v.Known:
			lines = append(lines, c.v.Say("placed-unknown", "when", c.clock(v.Began)))
		case v.Earlier == nil:
			lines = append(lines, c.v.Say("placed-during", append(fill, "rest",
				c.signedMoney(total.Sub(v.Change.Value())))...))
		default:
			rest := total.Sub(v.Change.Value()).Sub(*v.Earlier)
			lines = append(lines, c.v.Say("placed", append(fill, "before", c.signedMoney(*v.Earlier), "after",
				c.signedMoney(rest))...))
		}
	}
	return text(lines...).Text
}

// signedMoney words a difference: €20 missing, €20 too much, nothing.
func (c *talk) signedMoney(d decimal.Decimal) string {
	switch d.Sign() {
	case 0:
		return c.v.Say("difference.none")
	case -1:
		return c.v.Say("difference.missing", "money", c.v.Money(d.Neg()))
	}
	return c.v.Say("difference.over", "money", c.v.Money(d))
}
