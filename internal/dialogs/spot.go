package dialogs

import (
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// spotFlow counts without closing, and gives the count's own difference.
func spotFlow() *flow {
	screens := closingScreens()
	screens["verdict"] = screen{ask: askSpotVerdict, what: "what.verdict",
		taps: map[string]func(*talk){"confirm": tapVerdict, "figures": changeFigures}}
	return &flow{name: "spot", title: "spot", open: true, start: startSpot, screens: screens}
}

// secondFlow is a second count by another person, who sees neither the first
// nor the difference.
func secondFlow() *flow {
	screens := closingScreens()
	screens["compare"] = screen{ask: askCompare, what: "what.compare",
		taps: map[string]func(*talk){"mine": takeSecond, "first": keepFirst}}
	return &flow{name: "second", title: "second", open: true, watches: true, start: startSecond,
		screens: screens}
}

func startSpot(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("left")
	c.take(leftQuestion)
}

func confirmOtherCount(c *talk) {
	if c.State.Flow == "second" {
		c.goTo("compare")
		return
	}
	r := books.Record{Kind: books.Spot, Period: c.target().No, Figures: c.counted()}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.first(c.v.Say("counted", "when", c.clock(c.when())))
	c.goTo("paid")
}

// spotDay is the period as it would reconcile now, by the last spot count and
// the figures in the draft.
func (c *talk) spotDay() (cashmath.Day, books.Record) {
	p := c.target()
	d := p.Day()
	left, tray, found := books.Notes{}, books.Notes{}, books.Notes{}
	for _, f := range c.counted() {
		switch f.Field {
		case books.Remaining:
			left.Plus(f.Face, f.Notes)
		case books.Refused:
			tray.Plus(f.Face, f.Notes)
		default:
			found.Plus(f.Face, f.Notes)
		}
	}
	d.Remaining, d.Rejects, d.Found = cashmath.Notes(left), cashmath.Notes(tray), cashmath.Notes(found)
	r, ok := c.settlement(p)
	if ok {
		paid := books.Notes(maps.Clone(d.Dispensed))
		paid.Add(paidValue(r.Figures, books.PaidOut, books.LastSeen))
		back := books.Notes(maps.Clone(d.Reversed))
		back.Add(paidValue(r.Figures, books.Cancelled))
		d.Dispensed, d.Reversed = cashmath.Notes(paid), cashmath.Notes(back)
	}
	return d, r
}

// spotResult words the difference of a spot count.
func (c *talk) spotResult() (body []Block, difference books.Amount) {
	p := c.target()
	d, r := c.spotDay()
	if len(r.Amounts) == 2 {
		t := cashmath.ReconcileTotal(d, r.Amounts[0].Value, r.Amounts[1].Value)
		body = []Block{text(c.v.Say("verdict.spot"), c.total(p, t.Verdict, t.Variance), c.v.Say("verdict.total-only"))}
		return body, books.Amount{Field: books.Difference, Value: t.Variance}
	}
	res := cashmath.Reconcile(d)
	body = []Block{text(c.v.Say("verdict.spot")), c.verdictTable(res, c.chosen("unsettled") == ""), text(c.total(p, res.Verdict, res.TotalVariance))}
	return body, books.Amount{Field: books.Difference, Value: res.TotalVariance}
}

func askSpotVerdict(c *talk) *card {
	body, _ := c.spotResult()
	return &card{body: body, buttons: [][]Button{c.button("confirm", "confirm"), c.button("change", "figures")}}
}

func confirmSpot(c *talk) {
	body, difference := c.spotResult()
	r, _ := c.settlement(c.target())
	r.Kind, r.Period, r.Due = books.SpotPaid, c.target().No, decimal.Zero
	r.Amounts = append(r.Amounts, difference)
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	if !difference.Value.IsZero() {
		c.managers(append([]Block{text(c.v.Say("told.spot", "who", c.f.Person.Name))}, body...)...)
	}
	c.close(text(c.v.Say("spot-recorded", "when", c.clock(c.when())), c.lock()))
}

// startSecond takes up the period that another person has counted last.
func startSecond(c *talk) {
	pending := c.m.Pending()
	if len(pending) == 0 {
		c.close(Block{Text: c.v.Say("nothing-to-second")})
		return
	}
	p := pending[len(pending)-1]
	if p.CountedBy == c.f.Person.ID {
		c.close(Block{Text: c.v.Say("second-other", "who", c.f.Person.Name)})
		return
	}
	if p.Taken {
		c.close(Block{Text: c.v.Say("nothing-to-second")})
		return
	}
	c.State.Draft.Period = p.No
	c.goTo("left")
	c.take(leftQuestion)
}

// same reports whether the second count equals the one on record.
func (c *talk) same() bool {
	p := c.target()
	d := p.Day()
	mine, _ := c.spotDay()
	return maps.Equal(cashmath.Sum(d.Remaining), cashmath.Sum(mine.Remaining)) &&
		maps.Equal(cashmath.Sum(d.Rejects), cashmath.Sum(mine.Rejects)) &&
		maps.Equal(cashmath.Sum(d.Found), cashmath.Sum(mine.Found))
}

func askCompare(c *talk) *card {
	p := c.target()
	if p == nil || p.Status != books.Waiting {
		c.close(Block{Text: c.v.Say("nothing-to-second")})
		return nil
	}
	if c.same() {
		c.second(nil)
		return nil
	}
	return &card{body: []Block{{Text: c.v.Say("second-differs", "who", c.name(p.CountedBy))}},
		buttons: [][]Button{c.button("second-mine", "mine"), c.button("second-first", "first")}}
}

func takeSecond(c *talk) { c.second([]books.Mark{books.Second}) }
func keepFirst(c *talk)  { c.second(nil) }

// second records a second count; with marks it replaces the first.
func (c *talk) second(marks []books.Mark) {
	p := c.target()
	if p.CountedBy == c.f.Person.ID { // on a shared phone who it is, is asked last
		c.close(Block{Text: c.v.Say("second-other", "who", c.f.Person.Name)})
		return
	}
	r := books.Record{Kind: books.Spot, Period: p.No, Figures: c.counted(), Marks: []books.Mark{books.Second}}
	word := "second-same"
	if !c.same() {
		word = "second-kept"
	}
	if marks != nil {
		r.Kind, r.Marks, word = books.Count, slices.Clone(marks), "second-taken"
		if c.chosen("no-tray") != "" {
			r.Marks = append(r.Marks, books.NoTray)
		}
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.Replies = append(c.Replies, Reply{To: Audience{Person: p.CountedBy},
		Body: []Block{{Text: c.v.Say("told."+word, "who", c.f.Person.Name)}}})
	c.close(Block{Text: c.v.Say(word, "when", c.clock(c.when()))})
}

// settleFlow takes in the printed figures of a settlement while the period goes on.
func settleFlow() *flow {
	screens := closingScreens()
	screens["verdict"] = screen{ask: askSettlement, what: "what.review",
		taps: map[string]func(*talk){"confirm": tapSettlement, "change": changeFigures}}
	return &flow{name: "settle", title: "settle", start: startSettle, screens: screens}
}

func startSettle(c *talk) {
	p := c.target()
	if p == nil && len(c.m.Pending()) > 0 {
		p = c.m.Pending()[0]
	}
	if p == nil {
		c.close(Block{Text: c.nothingOpen()})
		return
	}
	c.State.Draft.Period = p.No
	c.goTo("paid")
	c.take(paidQuestion)
}

func askSettlement(c *talk) *card {
	r, _ := c.settlement(c.target())
	body := []Block{{Text: c.v.Say("review.settle")}}
	rows := [][]string{}
	for _, f := range r.Figures {
		rows = append(rows, []string{c.v.Say("field." + string(f.Field)), c.v.Kind(f.Face), c.v.Count("notes", f.Notes), c.v.Money(cashmath.Value(f.Face, f.Notes))})
	}
	for _, a := range r.Amounts {
		rows = append(rows, []string{c.v.Say("field." + string(a.Field)), "", "", c.v.Money(a.Value)})
	}
	body = append(body, columns(2, rows), text(c.v.Say("verdict.due", "money", c.least(r.Has(books.Unsettled), c.v.Money(r.Due))), c.v.Say("right")))
	return &card{body: body, buttons: [][]Button{c.button("confirm", "confirm"), c.button("change", "change")}}
}

func tapSettlement(c *talk) {
	if c.overtaken() {
		return
	}
	r, _ := c.settlement(c.target())
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.close(text(c.v.Say("settled", "when", c.clock(c.when()), "money", c.least(r.Has(books.Unsettled), c.v.Money(r.Due)))))
}
