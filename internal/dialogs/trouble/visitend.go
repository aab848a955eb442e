package trouble

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// endFigures gives the figures of the end of a visit: the count after, what was
// touched, and what left the boxes to a place that is not counted.
func endFigures(c *engine.Talk) []books.Figure {
	var figs []books.Figure
	if c.Chosen("uncounted-after") == "" {
		figs = visitFigures(c, visitAfter, visitRefuse)
	}
	touched := asked(c, touchedQuestionName)
	for _, f := range touched.Faces() {
		figs = append(figs, books.Figure{Field: books.Touched, Face: f, Notes: touched[f]})
	}
	away := books.Notes{}
	if books.Place(c.Chosen("touched-where")) == books.Path {
		away.Add(touched)
	}
	if p := books.Place(c.Chosen("tests-where")); p == books.Cash || p == books.Till {
		away.Add(testNotes(c))
	}
	for _, f := range away.Faces() {
		figs = append(figs, books.Figure{Field: books.Away, Face: f, Notes: away[f]})
	}
	return figs
}

func readVisitEnd(c *engine.Talk) []chat.Block {
	body := []chat.Block{{Text: c.V.Say("review.visit-after")}}
	if c.Chosen("uncounted-after") == "" {
		table, _ := ask.CountTable(c, ask.BoxLines(c), visitAfter.Values(c))
		body = append(body, table, engine.Text(trayLine(c, "visit-refuse")))
	}
	return append(body, engine.Text(touchedLine(c), testsLine(c), differenceLine(c)))
}

func touchedLine(c *engine.Talk) string {
	n := asked(c, touchedQuestionName)
	if len(n) == 0 {
		return ""
	}
	return c.V.Say("visit-touched", "notes", ask.Notes(c, n),
		"where", c.V.Say("place."+c.Chosen("touched-where")))
}

func testsLine(c *engine.Talk) string {
	n := testNotes(c)
	if len(n) == 0 {
		return ""
	}
	return c.V.Say("visit-tests", "notes", ask.Notes(c, n), "where", c.V.Say("place."+c.Chosen("tests-where")))
}

// differenceLine says what the two counts leave unexplained.
func differenceLine(c *engine.Talk) string {
	v := c.M.Visited()
	if v == nil || !v.Had || c.Chosen("uncounted-after") != "" {
		return c.V.Say("visit-not-compared")
	}
	change := v.Between(endFigures(c))
	if len(change) == 0 {
		return c.V.Say("visit-fits")
	}
	more, fewer := books.Notes{}, books.Notes{}
	for f, n := range change {
		more.Plus(f, max(n, 0))
		fewer.Plus(f, max(-n, 0))
	}
	switch {
	case len(fewer) == 0:
		return c.V.Say("visit-more", "notes", ask.Notes(c, more))
	case len(more) == 0:
		return c.V.Say("visit-fewer", "notes", ask.Notes(c, fewer))
	}
	return c.V.Say("visit-both", "fewer", ask.Notes(c, fewer), "more", ask.Notes(c, more))
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
	if p == nil || c.Chosen("uncounted-after") != "" {
		r.Marks = append(r.Marks, books.Uncounted)
	}
	records := []books.Record{r}
	if p != nil && p.Status == books.Open {
		records = append(records, handled(c, p)...)
	}
	for _, r := range records {
		if _, err := c.Record(r); err != nil {
			c.Refuse(err)
			return
		}
	}
	if v := c.M.Call(v.Seq); v != nil && len(v.Change) > 0 {
		c.Managers(engine.Text(c.V.Say("told.visit", "who", c.F.Person.Name), change))
	}
	c.Close(engine.Text(c.V.Say("visit-ended", "when", c.Clock(c.When())), change, c.Lock()))
}

// handled gives the records of a test payout and of notes put aside.
func handled(c *engine.Talk, p *books.Period) []books.Record {
	var list []books.Record
	if len(testNotes(c)) > 0 {
		r := books.Record{Kind: books.Test, Period: p.No, Where: books.Place(c.Chosen("tests-where")),
			Figures: ask.BoxFigures(books.Tried, ask.BoxLines(c), visitTests.Values(c), false)}
		if c.Chosen("counted") == "yes" {
			r.Marks = []books.Mark{books.Counted}
		}
		list = append(list, r)
	}
	if n := asked(c, touchedQuestionName); len(n) > 0 && books.Place(c.Chosen("touched-where")) == books.Path {
		r := books.Record{Kind: books.Found, Period: p.No, Where: books.Path}
		for _, f := range n.Faces() {
			r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: n[f]})
		}
		list = append(list, r)
	}
	return list
}
